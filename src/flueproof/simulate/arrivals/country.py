"""An invented country: areas with a postcode beginning of their own, towns in them, and towns where mail is sorted."""

from __future__ import annotations

import itertools
import random
from dataclasses import dataclass

from flueproof.simulate.arrivals.figures import words
from flueproof.simulate.arrivals.naming import Names, invented
from flueproof.simulate.arrivals.roster import Place

_TOWNS_PER_AREA = 6


@dataclass(frozen=True, slots=True)
class Town:
    """A town: its area is the first three digits of its postcodes; phone: its area code (never a real one)."""

    name: str
    area: str
    postcodes: tuple[str, ...]
    sorting: str
    phone: str


class Country:
    """Towns of very different size; one to three neighboring areas share a sorting town.

    analyzers: how large the roster will be; more analyzers come from more towns.
    Source: common practice, no source.
    """

    def __init__(self, chance: random.Random, analyzers: int) -> None:
        self._chance = chance
        self.towns = _drawn_towns(chance, max(2, round(0.42 * analyzers**0.5)))
        self._sums = list(itertools.accumulate(chance.paretovariate(1.1) for _ in self.towns))
        self._by_area: dict[str, list[Town]] = {}
        for town in self.towns:
            self._by_area.setdefault(town.area, []).append(town)
        self._by_postcode = {code: town for town in self.towns for code in town.postcodes}

    def town(self) -> Town:
        """Return a town, large ones more often."""
        return self._chance.choices(self.towns, cum_weights=self._sums)[0]

    def neighbor(self, of: Town) -> Town:
        """Return a town of the same area, maybe the same."""
        return self._chance.choice(self._by_area[of.area])

    def town_of(self, place: Place) -> Town:
        """Return the town of a place."""
        return self._by_postcode[place.postcode]

    def place(self, town: Town, names: Names) -> Place:
        """Return an address in a town."""
        return Place(names.street(), self._chance.choice(town.postcodes), town.name)

    def phone(self, town: Town) -> str:
        """Return a phone number of a town; its area code begins with 0 or 1, as none does that can be dialed."""
        exchange = 200 + (hash_of(town.name) + self._chance.choice((0, 0, 0, 37, 113))) % 800
        return f"{town.phone}-{exchange}-{self._chance.randrange(10_000):04d}"


def hash_of(text: str) -> int:
    """Return a number that is always the same for a text."""
    return sum((index + 1) * ord(letter) for index, letter in enumerate(text))


def _drawn_towns(chance: random.Random, areas: int) -> list[Town]:
    """Return towns of distinct postcodes; two of one name in different areas happen, as they do."""
    towns: list[Town] = []
    begins = chance.sample(range(100, 1000), areas)
    begins.sort()
    at = 0
    while at < areas:
        shared = begins[at : at + chance.choice((1, 1, 2, 3))]
        at += len(shared)
        names = [
            [invented(chance) + chance.choice(words()["town_ends"]) for _ in range(_TOWNS_PER_AREA)] for _ in shared
        ]
        for begin, inside in zip(shared, names, strict=True):
            codes = chance.sample(range(100), 4 * _TOWNS_PER_AREA)
            for index, name in enumerate(dict.fromkeys(inside)):
                own = codes[4 * index : 4 * index + chance.choice((1, 1, 2, 4))]
                postcodes = tuple(f"{begin}{code:02d}" for code in own)
                towns.append(Town(name, str(begin), postcodes, names[0][0], f"{begin % 200:03d}"))
    return towns
