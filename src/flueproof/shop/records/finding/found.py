"""What a search found, ready for a page or a program."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, slots=True)
class Match:
    """A text of a row with the places that were typed.

    parts: the text in order, each part with True where it was typed.
    """

    label: str
    parts: tuple[tuple[str, bool], ...]

    @property
    def text(self) -> str:
        """Return the text without marks."""
        return "".join(part for part, _ in self.parts)


@dataclass(frozen=True, slots=True)
class Hit:
    """One row that was found.

    exact: the typed text is the whole of a number, serial or scan code of this row; matches: what was typed, in the
    texts of the row.
    """

    kind: str
    row: Any
    exact: bool
    matches: tuple[Match, ...]


@dataclass(frozen=True, slots=True)
class Group:
    """The hits of one kind; `more`: there are others that are not listed."""

    kind: str
    hits: tuple[Hit, ...]
    more: bool


@dataclass(frozen=True, slots=True)
class Found:
    """The groups with hits, those with an exact one first.

    some_only: words so frequent that not all their rows were compared with the others; straight: the one row that was
    named in full, where a scan should go at once.
    """

    typed: str
    groups: tuple[Group, ...] = field(default=())
    some_only: bool = False

    @property
    def straight(self) -> Hit | None:
        """Return the only exact hit, or None when there is none or more than one."""
        exact = [hit for group in self.groups for hit in group.hits if hit.exact]
        return exact[0] if len(exact) == 1 else None

    @property
    def count(self) -> int:
        """Return the number of hits listed."""
        return sum(len(group.hits) for group in self.groups)
