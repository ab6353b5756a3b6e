"""The shop's file in memory, with the indexes that finding candidates needs."""

from __future__ import annotations

import datetime as dt
import math
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence

import numpy as np
import numpy.typing as npt
from rapidfuzz.distance import OSA

from flueproof.intake.clues import Clues
from flueproof.intake.file.keys import area_of, digits_of, joined, words_of
from flueproof.intake.file.name_index import NameIndex
from flueproof.intake.file.on_file import OwnerOnFile
from flueproof.intake.file.roster import Totals, WordCount
from flueproof.intake.file.serial_search import SerialSearch
from flueproof.intake.serials.series import Series, learn_series
from flueproof.intake.weighing.expecting import CALL_DAYS, DUE_DAYS

_BY_ANALYZER, _BY_OWNER, _BY_SERIAL = 50, 30, 25
_MANY, _SAMPLE = 10_000, 4_000


class MemoryRoster:
    """A Roster over a list of owners; seen_postmarks: (postmark, postcode of the owner) of boxes of the past."""

    def __init__(self, owners: Sequence[OwnerOnFile], seen_postmarks: Iterable[tuple[str, str]] = ()) -> None:
        self._owners = list(owners)
        plates = [(place, analyzer) for place, owner in enumerate(self._owners) for analyzer in owner.analyzers]
        self._owner_of = np.array([place for place, _ in plates], dtype=np.int64)
        self._plates = [analyzer for _, analyzer in plates]
        self._serials = SerialSearch([analyzer.serial for analyzer in self._plates])
        self._series = learn_series((analyzer.make, analyzer.serial) for analyzer in self._plates)
        self._models = Counter((analyzer.make, analyzer.model) for analyzer in self._plates)
        self._names = NameIndex()
        self._names.fill((place, owner.names, owner.people) for place, owner in enumerate(self._owners))
        self._people = sum(len(owner.people) for owner in self._owners)
        self._keys: dict[str, list[int]] = {}
        self._town_areas: dict[str, Counter[str]] = {}
        self._postmark_areas: dict[str, Counter[str]] = {}
        for place, owner in enumerate(self._owners):
            self._take_in(place, owner)
        for postmark, postcode in seen_postmarks:
            self._postmark_areas.setdefault(joined(postmark), Counter())[area_of(postcode)] += 1
        self._day: dt.date | None = None
        self._totals_of_day = Totals(0, 0, 0, {})
        self._expected_of_day = np.zeros(0)

    def totals(self, today: dt.date) -> Totals:
        """Return how much is on file."""
        self._fill_day(today)
        return self._totals_of_day

    def series(self) -> Series:
        """Return the makers' series."""
        return self._series

    def word_counts(self, words: Collection[str]) -> Mapping[str, WordCount]:
        """Return how often each word stands in a name."""
        return self._names.counts(words)

    def near_words(self, words: Collection[str]) -> Mapping[str, WordCount]:
        """Return the same for these words and those one slip away."""
        return self._names.counts({*words, *(near for word in words for near in self._names.near(word))})

    def place_counts(
        self, postcodes: Collection[str], areas: Collection[str], towns: Collection[str]
    ) -> Mapping[str, int]:
        """Return how many owners have an address there."""
        kinds = (("postcode", postcodes), ("area", areas), ("town", towns))
        return {key: len(self._keys.get(f"{kind} {key}", ())) for kind, keys in kinds for key in keys}

    def areas_of(self, town: str) -> Mapping[str, float]:
        """Return the areas a postmark points to: those of boxes seen, and of owners in a town of this name."""
        seen, there = self._postmark_areas.get(joined(town), Counter()), self._town_areas.get(joined(town), Counter())
        total = sum(there.values())
        return {area: seen[area] + (2.0 * there[area] / total if total else 0.0) for area in seen | there}

    def mail_counts(self, mail: str) -> int:
        """Return how many owners have an address at a domain, or this very address where there is an @."""
        return len(self._keys.get(f"{'mail' if '@' in mail else 'domain'} {mail.lower()}", ()))

    def candidates_for(self, clues: Clues, today: dt.date) -> Sequence[OwnerOnFile]:
        """Return the owners that the clues point to, by themselves and through their analyzers."""
        self._fill_day(today)
        owners = self._owner_scores(clues)
        serials = self._serials.scores(clues.serial)
        chosen: dict[int, None] = {}
        if len(self._plates):
            both = serials + owners[self._owner_of] + self._expected_of_day
            for scores, most in ((both, _BY_ANALYZER), (serials, _BY_SERIAL if clues.serial else 0)):
                chosen |= dict.fromkeys(self._owner_of[_largest(scores, 3 * most)].tolist()[: 3 * most])
                chosen = dict.fromkeys(list(chosen)[: _BY_ANALYZER + (_BY_SERIAL if scores is serials else 0)])
        chosen |= dict.fromkeys(place for place in _largest(owners, _BY_OWNER).tolist() if owners[place] > 0)
        return [self._owners[place] for place in chosen]

    def _take_in(self, place: int, owner: OwnerOnFile) -> None:
        keys = {f"domain {mail.lower().partition('@')[2]}" for mail in owner.emails if "@" in mail}
        keys |= {f"mail {mail.lower()}" for mail in owner.emails}
        for phone in owner.phones:
            digits = digits_of(phone)
            keys |= {f"phone {digits[-length:]}" for length in (3, 4, 5, 6, 7) if len(digits) >= length}
        for home in owner.places:
            keys |= {f"postcode {home.postcode}", f"area {area_of(home.postcode)}", f"town {joined(home.town)}"}
            self._town_areas.setdefault(joined(home.town), Counter())[area_of(home.postcode)] += 1
        for key in keys:
            self._keys.setdefault(key, []).append(place)

    def _owner_scores(self, clues: Clues) -> npt.NDArray[np.float64]:
        """Return a rough logarithm of the likelihood ratio of the sender's clues for each owner."""
        total, count = np.zeros(len(self._owners)), max(1, len(self._owners))

        def add(places: list[int], discount: float = 0.0) -> None:
            if places:
                total[places] += max(0.0, math.log(count / len(places)) - discount)

        words = dict.fromkeys(words_of(clues.name))
        if len(words) == 1:
            add(self._names.owners_by_initials(*words), 2.0)
        for word in words:
            add(self._names.owners_of(word))
            for near in self._names.near(word):
                add(self._names.owners_of(near), 1.5)
            if len(word) > 2:
                for longer in self._names.beginning(word):
                    add(self._names.owners_of(longer), 1.5)
        if digits := digits_of(clues.phone)[-7:]:
            add(self._keys.get(f"phone {digits}", []))
        if clues.email:
            add(self._keys.get(f"mail {clues.email.lower()}", []))
            add(self._keys.get(f"domain {clues.email.lower().partition('@')[2]}", []), 1.0)
        if clues.postcode:
            add(self._keys.get(f"postcode {clues.postcode}", []), 0.3)
        elif clues.town:
            for town in self._towns_like(joined(clues.town)):
                add(self._keys.get(f"town {town}", []), 0.3)
        return total

    def _towns_like(self, town: str) -> list[str]:
        """Return the town, or where it is not on file those one or two slips away."""
        if town in self._town_areas:
            return [town]
        return [known for known in self._town_areas if OSA.distance(town, known, score_cutoff=2) <= 2]

    def _fill_day(self, today: dt.date) -> None:
        if self._day == today:
            return
        callers = [bool(o.called_on and 0 <= (today - o.called_on).days <= CALL_DAYS) for o in self._owners]
        due = Counter((plate.next_due - today).days for plate in self._plates if plate.next_due is not None)
        near = {days: due[days] for days in due if abs(days) <= DUE_DAYS}
        requests = sum(len(owner.requests) for owner in self._owners)
        size = len(self._plates)
        self._totals_of_day = Totals(len(self._owners), self._people, size, self._models, requests, sum(callers), near)
        self._expected_of_day = np.zeros(size)
        asked = [
            1.0 + 0.3 * size / max(1, requests) * (len(o.requests) / max(1, len(o.analyzers))) for o in self._owners
        ]
        called = [
            0.2 * size / max(1, sum(callers)) / max(1, len(o.analyzers)) if lately else 0.0
            for o, lately in zip(self._owners, callers, strict=True)
        ]
        if size:
            self._expected_of_day = np.log(np.array(asked) + np.array(called))[self._owner_of]
        self._day = today


def _largest(scores: npt.NDArray[np.floating], most: int) -> npt.NDArray[np.int64]:
    """Return the places of the largest scores, the largest first."""
    most = min(most, len(scores))
    if most == 0:
        return np.zeros(0, dtype=np.int64)
    places = np.arange(len(scores))
    if len(scores) > _MANY:
        # Most scores are far below; a sample tells where to cut before the rest is put in order.
        sample = np.sort(scores[:: len(scores) // _SAMPLE])
        above = np.flatnonzero(scores >= sample[-1 - (2 * most * len(sample)) // len(scores)])
        places = above if len(above) >= most else places
    order = np.argsort(-scores[places], kind="stable")[:most]
    return places[order]
