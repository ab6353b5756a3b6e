"""Errors of the impact room.

ImpactError
├── NothingFoundError     a record that says nothing about past readings: nothing was measured as found
├── FieldReadingError     field readings that cannot be corrected: shapes, units, a fuel that is not known
├── FieldLogError         a log that cannot be read: which line, which column, what to do
├── LimitError            a limit of the owner's that no statement can be made against
└── ReferenceChangeError  a change of a reference that no record can be judged again with
"""

from __future__ import annotations


class ImpactError(ValueError):
    """Anything this room refuses; the message says what was given, what is allowed and what to do."""


class NothingFoundError(ImpactError):
    """Nothing was measured as found, so nothing can be said about past readings."""


class FieldReadingError(ImpactError):
    """Field readings that cannot be corrected."""


class LimitError(ImpactError):
    """A limit of the owner's that no statement can be made against."""


class ReferenceChangeError(ImpactError):
    """A change of a reference that no record can be judged again with."""


class FieldLogError(ImpactError):
    """A line of a field log that cannot be read.

    line: number in the file, from 1, None for the file as a whole; column: the header's own words or None.
    """

    def __init__(self, message: str, *, line: int | None = None, column: str | None = None) -> None:
        self.line, self.column = line, column
        where = "" if line is None else f"line {line}: "
        where += "" if column is None else f"column {column!r}: "
        super().__init__(where + message)
