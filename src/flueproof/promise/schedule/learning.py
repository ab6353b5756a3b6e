"""How long a step takes, learned from the shop's own finished jobs: robust, and right where data are few.

Minutes are learned as logarithms, for their spread is one of proportions. The middle is the median, which one job gone
wrong does not move; it is drawn to what is known of all models, and that to the shop's default, the more so the fewer
the data. The spread is the median distance from the middle, drawn to the default in the same way, and widened by what
the middle itself may be off. Shrinkage by a stated number of pretended data: common practice, no source.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import NamedTuple

import numpy as np

PRETENDED = 4.0
"""How many finished jobs the default counts for, and those of all models for one model."""

SPREAD = 0.35
"""Standard deviation of the logarithm where nothing is known: two of three steps within 30 % less or 40 % more."""

TO_DEVIATION = 1.4826
"""The median distance times this is the standard deviation of a normal distribution."""

EFFICIENCY = 2 / math.pi
"""How many data of a mean one datum of a median is worth."""

LEAST, MOST = 0.05, 1.0
"""Spreads beyond these are not believed."""


class Finished(NamedTuple):
    """One step of a finished job as it went: hands-on minutes."""

    model: str
    service: str
    step: str
    minutes: float


class Learned(NamedTuple):
    """What to expect of a step: its middle [min], its spread (of the logarithm), from how many jobs of this model."""

    minutes: float
    spread: float
    jobs: int

    def quantile(self, deviations: float) -> float:
        """Return the minutes so many standard deviations above the middle."""
        return self.minutes * math.exp(deviations * self.spread)


class Minutes:
    """What the shop has learned: ask by model, service and step. Made by `learn`."""

    def __init__(self, defaults: Mapping[str, float], steps: Mapping[str, _Known], own: Mapping[_Key, _Known]) -> None:
        self._defaults, self._steps, self._own = defaults, steps, own

    def of(self, model: str, service: str, step: str) -> Learned:
        """Return what to expect of a step. Raises KeyError for a step that has no default and was never done."""
        if step in self._defaults:
            known = _Known(math.log(max(1.0, self._defaults[step])), SPREAD, 0.0)
        elif step in self._steps:
            known = self._steps[step]
        else:
            raise KeyError(f"Step {step!r} has no default minutes and was never done: give it a default.")
        everywhere = self._steps.get(step)
        if everywhere is not None:
            known = _drawn(everywhere, known)
        own = self._own.get((model, service, step))
        count = 0
        if own is not None:
            known, count = _drawn(own, known), int(own.weight)
        unsure = known.spread / math.sqrt((known.weight + PRETENDED) * EFFICIENCY)
        return Learned(math.exp(known.middle), math.hypot(known.spread, unsure), count)


class _Known(NamedTuple):
    middle: float
    spread: float
    weight: float


_Key = tuple[str, str, str]


def learn(finished: Iterable[Finished], defaults: Mapping[str, float]) -> Minutes:
    """Return what finished steps teach; `defaults`: the shop's own guess for each step [min].

    Minutes that are not above zero are left out: nobody worked, or nobody wrote it down.
    """
    by_step: defaultdict[str, list[float]] = defaultdict(list)
    by_key: defaultdict[_Key, list[float]] = defaultdict(list)
    for each in finished:
        if each.minutes > 0 and math.isfinite(each.minutes):
            by_step[each.step].append(math.log(each.minutes))
            by_key[each.model, each.service, each.step].append(math.log(each.minutes))
    steps = {step: _known(logs) for step, logs in by_step.items()}
    return Minutes(dict(defaults), steps, {key: _known(logs) for key, logs in by_key.items()})


def _known(logs: list[float]) -> _Known:
    values = np.asarray(logs)
    middle = float(np.median(values))
    distance = float(np.median(np.abs(values - middle)))
    return _Known(middle, distance * TO_DEVIATION, float(len(values)))


def _drawn(own: _Known, wider: _Known) -> _Known:
    """Return what is known of a few, drawn to what is known of many by PRETENDED data."""
    share = own.weight / (own.weight + PRETENDED)
    # One datum has no spread of its own, two have hardly one.
    share_of_spread = max(0.0, own.weight - 1) / (max(0.0, own.weight - 1) + 2 * PRETENDED)
    spread = share_of_spread * own.spread + (1 - share_of_spread) * wider.spread
    return _Known(share * own.middle + (1 - share) * wider.middle, min(MOST, max(LEAST, spread)), own.weight)
