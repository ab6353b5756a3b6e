"""Runs of numbers: analyzers of a batch differ in their last characters, and some of them belong to other owners."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Hashable, Mapping
from typing import Final

import numpy as np

FREE: Final = (1, 2, 3)
NEAR_UNKNOWN: Final = (0.3, 0.08, 0.02)
"""Where little is on file: our own assumption, no source."""
_BEHIND: Final = re.compile(r"[^0-9A-Za-z]([0-9A-Za-z]{1,2})$")
_SAMPLE, _TURNS, _BELIEVED = 1500, 25, 30.0


def runs_of(serial: str, key: str) -> tuple[str, ...]:
    """Return the key with one, two and three of its last running characters left open, as ?.

    A year behind the running number stays: of A-10417-26 the first run is A1041?26.
    """
    found = _BEHIND.search(serial.strip())
    end = len(key) - (len(found[1]) if found else 0)
    return tuple(key[: end - free] + "?" * free + key[end:] for free in FREE if end > free)


class Runs:
    """Counts the serials on file in each run, and learns how many of the plates of others lie near them."""

    def __init__(self) -> None:
        self.counts = Counter[str]()
        self._own = Counter[tuple[str, Hashable]]()
        self._plates: list[tuple[str, str, str, Hashable]] = []

    def add(self, make: str, serial: str, key: str, owner: Hashable) -> None:
        """Take in a serial."""
        self._plates.append((make, serial, key, owner))
        runs = runs_of(serial, key)
        self.counts.update(runs)
        self._own.update((run, owner) for run in runs)

    def near(self, makes: Mapping[str, int], by_profile: Callable[[str, str], float]) -> tuple[float, ...]:
        """Return which share of plates lies in a run of other owners, by the number of its free characters.

        Each serial of a sample is looked at as if it were new and its owner's others were not there; by_profile: how
        probable a key of a make is by the series alone. The shares are those that make the sample most probable
        (expectation and maximization), a few plates' worth of NEAR_UNKNOWN added.
        """
        sample = self._plates[:: max(1, len(self._plates) // _SAMPLE)]
        chances = np.zeros((len(sample), len(FREE) + 1))
        for row, (make, serial, key, owner) in enumerate(sample):
            for place, run in enumerate(runs_of(serial, key)):
                chances[row, place] = (self.counts[run] - self._own[run, owner]) / makes[make] * 10.0 ** -FREE[place]
            chances[row, -1] = max(by_profile(make, key), 1e-12)
        believed = _BELIEVED * np.array([*NEAR_UNKNOWN, 1.0 - sum(NEAR_UNKNOWN)])
        shares = believed / believed.sum()
        for _ in range(_TURNS):
            parts = chances * shares
            shares = (parts / parts.sum(axis=1, keepdims=True)).sum(axis=0) + believed
            shares /= shares.sum()
        return tuple(float(share) for share in shares[:-1])
