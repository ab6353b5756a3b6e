"""Errors of the bench room.

BenchError
└── RecordError    a bench record that cannot be read: where, what is wrong, what to do
"""

from __future__ import annotations


class BenchError(Exception):
    """The root of everything that this room raises on purpose."""


class RecordError(BenchError):
    """A bench record that is refused.

    path: JSON path of the place, `$` for the file as a whole (`$.steps[2].reference`); message: what was given and
    what is allowed; remedy: what to do; name: the record's name where it is known.
    """

    def __init__(self, path: str, message: str, remedy: str, name: str | None = None) -> None:
        super().__init__(path, message, remedy, name)
        self.path = path
        self.message = message
        self.remedy = remedy
        self.name = name

    def __str__(self) -> str:
        where = self.path if self.name is None else f"{self.name}: {self.path}"
        return f"{where}: {self.message} {self.remedy}"

    def to_json_dict(self) -> dict[str, str]:
        """Return path, message and remedy as `flueproof judge --json` prints them.

        Source: common practice, no source.
        """
        return {"path": self.path, "message": self.message, "remedy": self.remedy}
