"""Who of the file a box's clues may point to: all names, places and serials at hand."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Hashable, Mapping, Sequence
from functools import cached_property
from typing import Final

import numpy as np
import numpy.typing as npt
from rapidfuzz.distance import OSA

from flueproof.intake.clues import Clues
from flueproof.intake.file.keys import area_of, digits_of, exchange_of, joined, words_of
from flueproof.intake.file.largest import Scores, largest
from flueproof.intake.file.name_index import NameIndex
from flueproof.intake.file.on_file import OwnerOnFile
from flueproof.intake.file.roster import Plate, PlatesLike, WordCount
from flueproof.intake.file.serial_search import SerialSearch
from flueproof.intake.serials.series import Series, learn_series

_BY_PLATE, _BY_OWNER, _BY_SERIAL = 50, 30, 25
_ENDINGS: Final = (3, 4, 5, 6, 7)


class FileIndex:
    """Owners (their analyzers are not looked at) and the plates of analyzers, one for each; keys as on file."""

    def __init__(self, owners: Sequence[OwnerOnFile], plates: Sequence[Plate]) -> None:
        self.keys = [owner.key for owner in owners]
        self._place = {key: place for place, key in enumerate(self.keys)}
        self.plates = [plate for plate in plates if plate.owner in self._place]
        self._owner_of = np.array([self._place[plate.owner] for plate in self.plates], dtype=np.int64)
        self._sizes = np.bincount(self._owner_of, minlength=len(self.keys)) if self.plates else np.zeros(len(self.keys))
        self._serials = SerialSearch([plate.serial for plate in self.plates])
        self.models = Counter((plate.make, plate.model) for plate in self.plates)
        self.people = sum(len(owner.people) for owner in owners)
        self._names = NameIndex()
        self._names.fill((place, owner.names, owner.people) for place, owner in enumerate(owners))
        self._at: dict[str, list[int]] = {}
        self._town_areas: dict[str, Counter[str]] = {}
        for place, owner in enumerate(owners):
            self._take_in(place, owner)

    @cached_property
    def series(self) -> Series:
        """The makers' series, learned when they are first asked for."""
        return learn_series((plate.make, plate.serial, plate.owner) for plate in self.plates)

    def word_counts(self, words: Collection[str]) -> Mapping[str, WordCount]:
        """Return how often each word stands in a name."""
        return self._names.counts(words)

    def near_words(self, words: Collection[str]) -> Mapping[str, WordCount]:
        """Return the same for these words and those one slip away."""
        return self._names.counts({*words, *(near for word in words for near in self._names.near(word))})

    def place_counts(
        self, postcodes: Collection[str], areas: Collection[str], towns: Collection[str]
    ) -> Mapping[str, int]:
        """Return how many owners have an address there; towns as words joined by a space."""
        kinds = (("postcode", postcodes), ("area", areas), ("town", towns))
        return {key: self._owners_at(kind, key) for kind, keys in kinds for key in keys}

    def areas_of(self, town: str, seen: Mapping[str, int]) -> Mapping[str, float]:
        """Return the areas a postmark points to: those of boxes seen, and of owners in a town of this name."""
        there = self._town_areas.get(joined(town), Counter())
        total = sum(there.values())
        return {area: seen.get(area, 0) + (2.0 * there[area] / total if total else 0.0) for area in {*seen, *there}}

    def mail_counts(self, mail: str) -> int:
        """Return how many owners have an address at a domain, or this very address where there is an @."""
        return self._owners_at("mail" if "@" in mail else "domain", mail.strip().lower())

    def exchange_count(self, digits: str) -> int:
        """Return how many owners have a phone number of the same exchange."""
        return self._owners_at("exchange", exchange_of(digits))

    def plates_like(self, serial: str, most: int) -> PlatesLike:
        """Return the plates whose serial is most like a reading, and how many more are as like as the last of them."""
        scores = self._serials.scores(serial)
        best = largest(scores, most)
        if len(best) == len(scores):
            return PlatesLike([self.plates[place] for place in best], 0.0)
        last = scores[best[-1]]
        inside = float(np.exp(scores[best] - last).sum())
        more = float(np.exp(scores - last).sum()) - inside
        return PlatesLike([self.plates[place] for place in best], max(0.0, more))

    def chosen(
        self, clues: Clues, asked: Mapping[Hashable, int], requests: int, called: Collection[Hashable]
    ) -> tuple[list[Hashable], list[Hashable]]:
        """Return the keys of the owners that the clues point to, and of the plates that speak for them.

        asked: owner -> open requests; requests: all open ones; called: owners that called lately.
        """
        if not self.keys:
            return [], []
        owners, serials = self._owner_scores(clues), self._serials.scores(clues.serial)
        found: dict[int, None] = {}
        plates: list[int] = []
        if self.plates:
            both = serials + (owners + self._expected(asked, requests, called))[self._owner_of]
            for scores, most in ((both, _BY_PLATE), (serials, _BY_SERIAL if clues.serial else 0)):
                best = largest(scores, 3 * most)
                plates += best.tolist()
                added = [place for place in self._owner_of[best].tolist() if place not in found]
                found |= dict.fromkeys(list(dict.fromkeys(added))[:most])
        found |= dict.fromkeys(place for place in largest(owners, _BY_OWNER).tolist() if owners[place] > 0)
        return [self.keys[place] for place in found], [self.plates[place].key for place in plates]

    def _owners_at(self, kind: str, key: str) -> int:
        return len(self._at.get(f"{kind} {key}", ()))

    def _take_in(self, place: int, owner: OwnerOnFile) -> None:
        mails = [mail.strip().lower() for mail in owner.emails]
        keys = {f"mail {mail}" for mail in mails} | {
            f"domain {mail.partition('@')[2]}" for mail in mails if "@" in mail
        }
        for phone in owner.phones:
            digits = digits_of(phone)
            keys |= {f"phone {digits[-length:]}" for length in _ENDINGS if len(digits) >= length}
            keys.add(f"exchange {exchange_of(digits)}")
        for home in owner.places:
            area, town = area_of(home.postcode), joined(home.town)
            keys |= {f"postcode {home.postcode}", f"area {area}", f"town {town}", f"street {joined(home.street)}"}
            self._town_areas.setdefault(town, Counter())[area] += 1
        for key in keys:
            self._at.setdefault(key, []).append(place)

    def _owner_scores(self, clues: Clues) -> npt.NDArray[np.float64]:
        """Return a rough logarithm of the likelihood ratio of the sender's clues for each owner."""
        total, count = np.zeros(len(self.keys)), max(1, len(self.keys))

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
            for longer in self._names.beginning(word) if len(word) > 2 else ():
                add(self._names.owners_of(longer), 1.5)
        if digits := digits_of(clues.phone)[-7:]:
            add(self._at.get(f"phone {digits}", []))
        if clues.email:
            add(self._at.get(f"mail {clues.email.lower()}", []))
            add(self._at.get(f"domain {clues.email.lower().partition('@')[2]}", []), 1.0)
        if clues.postcode:
            add(self._at.get(f"postcode {clues.postcode}", []), 0.3)
        if clues.street:
            add(self._at.get(f"street {joined(clues.street)}", []), 1.0)
        if clues.town and not clues.postcode:
            for town in self._towns_like(joined(clues.town)):
                add(self._at.get(f"town {town}", []), 0.3)
        return total

    def _towns_like(self, town: str) -> list[str]:
        """Return the town, or where it is not on file those one or two slips away."""
        if town in self._town_areas:
            return [town]
        return [known for known in self._town_areas if OSA.distance(town, known, score_cutoff=2) <= 2]

    def _expected(self, asked: Mapping[Hashable, int], requests: int, called: Collection[Hashable]) -> Scores:
        """Return for each owner how much more than others it is expected."""
        size, own = len(self.plates), np.maximum(1, self._sizes)
        raised = np.ones(len(self.keys))
        for key, count in asked.items():
            if key in self._place:
                place = self._place[key]
                raised[place] += 0.3 * size / max(1, requests) * count / own[place]
        for key in called:
            if key in self._place:
                place = self._place[key]
                raised[place] += 0.2 * size / max(1, len(called)) / own[place]
        return np.log(raised)
