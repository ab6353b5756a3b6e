"""Serial numbers in series, as makers give them: neighbors differ by one character, batches go to one region."""

from __future__ import annotations

import random
from typing import Any

from flueproof.simulate.arrivals.figures import words

_LETTERS = "ABCDEFGHJKLMNPRSTUVWXZBSOI"  # B, S, O and I on purpose: plates do have them


class Plates:
    """Draws plates; no two of a make have the same serial, two makes may.

    together: share of the plates that are the next of a batch that was already sold from.
    Source: common practice, no source.
    """

    def __init__(self, chance: random.Random, together: float = 0.55) -> None:
        self._chance, self._together = chance, together
        self._makes: list[dict[str, Any]] = words()["makes"]
        self._shares = [make["share"] for make in self._makes]
        self._used: set[tuple[str, str]] = set()
        self._batches: dict[tuple[str, str], tuple[int, str, str]] = {}

    def draw(self, region: str) -> tuple[str, str, str]:
        """Return make, model, serial of an analyzer sold in a region."""
        make = self._chance.choices(self._makes, self._shares)[0]
        model = self._chance.choices(make["models"], [1 / (i + 1) for i in range(len(make["models"]))])[0]
        batch = self._batches.get((make["name"], region))
        if batch is not None and self._chance.random() < self._together:
            return make["name"], model, self._next(make["name"], region, batch)
        return make["name"], model, self._opened(make, region)

    def following(self, make: str, model: str, region: str) -> tuple[str, str, str]:
        """Return the next of the batch that was last sold from in a region; drawn anew where there is none."""
        batch = self._batches.get((make, region))
        return (make, model, self._next(make, region, batch)) if batch else self.draw(region)

    def _opened(self, make: dict[str, Any], region: str) -> str:
        """Return the first of a batch somewhere in the maker's series."""
        while True:
            year = f"{self._chance.choice((12, 15, 16, 17, 18, 19, 20, 20, 21, 21, 22, 22, 23, 23, 24, 24, 25)):02d}"
            letters = "".join(self._chance.choice(_LETTERS) for _ in range(make["plate"].count("%")))
            digits = make["plate"].count("#")
            # Makers number from the bottom: most of a long number is the same for all.
            number = int(10**digits * self._chance.betavariate(1.2, 3.0))
            batch = (number, year, letters)
            serial = filled(make["plate"], batch)
            if (make["name"], serial) not in self._used:
                self._used.add((make["name"], serial))
                self._batches[make["name"], region] = batch
                return serial

    def _next(self, make: str, region: str, batch: tuple[int, str, str]) -> str:
        plate = next(entry["plate"] for entry in self._makes if entry["name"] == make)
        number = batch[0]
        while True:
            number = (number + self._chance.choice((1, 1, 1, 2, 3, 7, 10))) % 10 ** plate.count("#")
            serial = filled(plate, (number, batch[1], batch[2]))
            if (make, serial) not in self._used:
                self._used.add((make, serial))
                self._batches[make, region] = (number, batch[1], batch[2])
                return serial


def filled(plate: str, batch: tuple[int, str, str]) -> str:
    """Return a plate's pattern with running number, year and letters in place."""
    number, year, letters = batch
    digits = iter(f"{number:0{plate.count('#')}d}")
    letter = iter(letters)
    plain = "".join(next(digits) if sign == "#" else next(letter) if sign == "%" else sign for sign in plate)
    return plain.replace("~", year)
