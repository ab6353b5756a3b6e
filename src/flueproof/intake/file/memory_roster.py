"""The shop's file in memory, with the indexes that finding candidates needs."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence

from flueproof.intake.clues import Clues
from flueproof.intake.file.file_index import FileIndex
from flueproof.intake.file.keys import area_of, joined
from flueproof.intake.file.on_file import OwnerOnFile
from flueproof.intake.file.roster import Plate, PlatesLike, Totals, WordCount
from flueproof.intake.serials.series import Series
from flueproof.intake.weighing.expecting import CALL_DAYS, DUE_DAYS


class MemoryRoster:
    """A Roster over a list of owners; seen_postmarks: (postmark, postcode of the owner) of boxes of the past."""

    def __init__(self, owners: Sequence[OwnerOnFile], seen_postmarks: Iterable[tuple[str, str]] = ()) -> None:
        self._owners = {owner.key: owner for owner in owners}
        plates = [(owner, analyzer) for owner in self._owners.values() for analyzer in owner.analyzers]
        self._due = [analyzer.next_due for _, analyzer in plates if analyzer.next_due is not None]
        self._index = FileIndex(
            list(self._owners.values()),
            [Plate(unit.key, owner.key, unit.make, unit.model, unit.serial) for owner, unit in plates],
        )
        self._asked = {owner.key: len(owner.requests) for owner in self._owners.values() if owner.requests}
        self._postmark_areas: dict[str, Counter[str]] = {}
        for postmark, postcode in seen_postmarks:
            self._postmark_areas.setdefault(joined(postmark), Counter())[area_of(postcode)] += 1
        self._day: dt.date | None = None
        self._called: frozenset[object] = frozenset()
        self._totals_of_day = Totals(0, 0, 0, {})

    def totals(self, today: dt.date) -> Totals:
        """Return how much is on file."""
        self._fill_day(today)
        return self._totals_of_day

    def series(self) -> Series:
        """Return the makers' series."""
        return self._index.series

    def word_counts(self, words: Collection[str]) -> Mapping[str, WordCount]:
        """Return how often each word stands in a name."""
        return self._index.word_counts(words)

    def near_words(self, words: Collection[str]) -> Mapping[str, WordCount]:
        """Return the same for these words and those one slip away."""
        return self._index.near_words(words)

    def place_counts(
        self, postcodes: Collection[str], areas: Collection[str], towns: Collection[str]
    ) -> Mapping[str, int]:
        """Return how many owners have an address there."""
        return self._index.place_counts(postcodes, areas, towns)

    def areas_of(self, town: str) -> Mapping[str, float]:
        """Return the areas a postmark points to: those of boxes seen, and of owners in a town of this name."""
        return self._index.areas_of(town, self._postmark_areas.get(joined(town), Counter()))

    def mail_counts(self, mail: str) -> int:
        """Return how many owners have an address at a domain, or this very address where there is an @."""
        return self._index.mail_counts(mail)

    def exchange_count(self, digits: str) -> int:
        """Return how many owners have a phone number of the same exchange."""
        return self._index.exchange_count(digits)

    def plates_like(self, serial: str, most: int) -> PlatesLike:
        """Return the plates whose serial is most like a reading."""
        return self._index.plates_like(serial, most)

    def candidates_for(self, clues: Clues, today: dt.date) -> Sequence[OwnerOnFile]:
        """Return the owners that the clues point to, by themselves and through their analyzers."""
        self._fill_day(today)
        keys, _ = self._index.chosen(clues, self._asked, self._totals_of_day.requests, self._called)
        return [self._owners[key] for key in keys]

    def _fill_day(self, today: dt.date) -> None:
        if self._day == today:
            return
        owners = self._owners.values()
        self._called = frozenset(
            owner.key for owner in owners if owner.called_on and 0 <= (today - owner.called_on).days <= CALL_DAYS
        )
        due = Counter((day - today).days for day in self._due)
        self._totals_of_day = Totals(
            len(self._owners),
            self._index.people,
            len(self._index.plates),
            self._index.models,
            sum(self._asked.values()),
            len(self._called),
            {days: count for days, count in due.items() if abs(days) <= DUE_DAYS},
        )
        self._day = today
