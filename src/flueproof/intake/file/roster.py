"""What the ranking asks of the shop's file; a database and a list in memory answer alike."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple, Protocol

from flueproof.intake.clues import Clues
from flueproof.intake.file.on_file import OwnerOnFile
from flueproof.intake.serials.series import Series


class WordCount(NamedTuple):
    """How many owners have a word in a firm name, and how many people have it in theirs."""

    firms: int
    people: int


@dataclass(frozen=True, slots=True)
class Totals:
    """How much is on file.

    models: (make, model) -> analyzers; requests: open ones; callers: owners that called within the last 14 days;
    due: days from today (-90 to 90) -> analyzers due on that day.
    """

    owners: int
    people: int
    analyzers: int
    models: Mapping[tuple[str, str], int]
    requests: int = 0
    callers: int = 0
    due: Mapping[int, int] = field(default_factory=dict)


class Plate(NamedTuple):
    """An analyzer on file: its key, that of its owner, and what is on its plate."""

    key: Hashable
    owner: Hashable
    make: str
    model: str
    serial: str


class PlatesLike(NamedTuple):
    """Plates, the likest first; more: all others of the file, counted by how like they are beside the last of these."""

    plates: Sequence[Plate]
    more: float


class Roster(Protocol):
    """The shop's file. Numbers may be some minutes old, the series some hours."""

    def totals(self, today: dt.date) -> Totals:
        """Return how much is on file."""

    def series(self) -> Series:
        """Return the makers' series, learned from all serials on file."""

    def candidates_for(self, clues: Clues, today: dt.date) -> Sequence[OwnerOnFile]:
        """Return owners that anything points to (about 80 at most), each with its analyzers and open requests."""

    def word_counts(self, words: Collection[str]) -> Mapping[str, WordCount]:
        """Return how often each word stands in a name; words that never do may be missing."""

    def near_words(self, words: Collection[str]) -> Mapping[str, WordCount]:
        """Return the same for these words and those one slip away, as far as the index can tell."""

    def place_counts(
        self, postcodes: Collection[str], areas: Collection[str], towns: Collection[str]
    ) -> Mapping[str, int]:
        """Return how many owners have an address there; towns as words joined by a space."""

    def areas_of(self, town: str) -> Mapping[str, float]:
        """Return the areas that a postmark points to, with the boxes seen (and owners living there) as weights."""

    def mail_counts(self, mail: str) -> int:
        """Return how many owners have an e-mail address at a domain, or this very address where there is an @."""

    def exchange_count(self, digits: str) -> int:
        """Return how many owners have a phone number of the same exchange: all but the last four digits, ten of all."""

    def plates_like(self, serial: str, most: int) -> PlatesLike:
        """Return the plates whose serial is most like a reading, whoever has them, and how many more are as like."""
