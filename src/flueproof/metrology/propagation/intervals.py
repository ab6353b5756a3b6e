"""Coverage intervals from results of draws: symmetric in probability, and the shortest one."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from flueproof.metrology.coverage import checked_level
from flueproof.metrology.errors import MonteCarloError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    FloatArray = NDArray[np.float64]


class Interval(NamedTuple):
    """Lower and upper end of a coverage interval [unit of the result]."""

    low: float
    high: float


def symmetric_interval(results: FloatArray, level: float) -> Interval:
    """Return the interval that leaves as much probability below it as above it [unit of the result].

    results: shape (draws,), in any order. level: [-].
    Quantiles are read off the continuous approximation, result number r standing for (r - 1/2)/draws, so that both
    ends are treated alike; whole ranks would shift the interval by half a result.
    Raises: LevelError, MonteCarloError for too few results.
    Source: JCGM 101:2008, 7.5.1 and 7.7.1 (continuous approximation), 7.7.2 note 2 (equal tails).
    """
    _inside(results, level)
    draws = len(results)
    place = 0.5 * (1.0 - level) * draws - 0.5  # rank from 0 of the lower end, between two results
    if place < 0.0:
        raise MonteCarloError(f"{draws} results are too few for an interval at {level:g}; take at least 1/(1 - level)")
    rank = int(place)
    part = place - rank
    ranks = [rank, rank + 1, draws - 2 - rank, draws - 1 - rank]
    ends = np.partition(results, ranks)[ranks]
    low = ends[0] + part * (ends[1] - ends[0])
    return Interval(float(low), float(ends[3] - part * (ends[3] - ends[2])))


def shortest_interval(ordered: FloatArray, level: float) -> Interval:
    """Return the shortest interval that holds the level of confidence [unit of the result].

    ordered: results in rising order, shape (draws,). level: [-].
    Raises: LevelError, MonteCarloError for too few results.
    Source: JCGM 101:2008, 7.7.3, 7.7.4.
    """
    inside, draws = _inside(ordered, level)
    start = int(np.argmin(ordered[inside:] - ordered[: draws - inside]))
    return Interval(float(ordered[start]), float(ordered[start + inside]))


def _inside(results: FloatArray, level: float) -> tuple[int, int]:
    draws = len(results)
    inside = int(checked_level(level) * draws + 0.5)
    if inside >= draws:
        raise MonteCarloError(f"{draws} results are too few for an interval at {level:g}; take at least 2/(1 - level)")
    return inside, draws
