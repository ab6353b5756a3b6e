"""Readings whose noise follows itself: how many independent ones they are worth."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from flueproof.metrology.errors import ReadingsError
from flueproof.metrology.type_a import checked_readings

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]


class SeriesMean(NamedTuple):
    """Mean, scatter of one reading and standard uncertainty of the mean [unit of the readings].

    worth: number of independent readings that the series is worth; correlation: of neighbours [-].
    """

    mean: float
    s: float
    u: float
    worth: float
    correlation: float


def neighbor_correlation(readings: ArrayLike) -> float:
    """Return the lag-one autocorrelation of a series of shape (n,) [-], 0 where nothing varies.

    Raises: ReadingsError.
    Source: NIST Statistical Reference Datasets, univariate (definition of r1).
    """
    values = checked_readings(readings, 2)
    away = values - values.mean()
    square = float(away @ away)
    return float(away[1:] @ away[:-1]) / square if square > 0.0 else 0.0


def variance_inflation(count: int, correlation: float) -> float:
    """Return how many times the variance of a mean of n readings grows when each follows the one before [-].

    correlation: of neighbours, ]-1, 1[ [-]; that of readings k apart is its k-th power.
    Raises: ReadingsError.
    Source: N. F. Zhang, Metrologia 43 (2006) S276 (from memory); JCGM 100:2008, 4.2.7 asks for such a method.
    """
    if count < 1 or not -1.0 < correlation < 1.0:
        raise ReadingsError(f"needs a count from 1 and a correlation between -1 and 1; got {count}, {correlation!r}")
    rest = 1.0 - correlation
    ends = 2.0 * correlation * (1.0 - correlation**count) / (count * rest * rest)
    return (1.0 + correlation) / rest - ends


def autocorrelated_mean(readings: ArrayLike, correlation: float | None = None) -> SeriesMean:
    """Return the mean of a steady series whose noise follows itself, with an uncertainty that allows for it.

    readings: shape (n,), evenly spaced in time [their unit]. correlation: of neighbours [-] where known, else taken
    from the series and never below 0. Near 1 the series drifts and has no mean: look at `drift_of` first.
    Raises: ReadingsError.
    Source: see `variance_inflation`.
    """
    values = checked_readings(readings, 2)
    rho = max(neighbor_correlation(values), 0.0) if correlation is None else correlation
    inflation = variance_inflation(values.size, rho)
    s = float(values.std(ddof=1))
    return SeriesMean(
        float(values.mean()), s, s * math.sqrt(inflation / values.size), values.size / inflation, rho
    )  # fmt: skip
