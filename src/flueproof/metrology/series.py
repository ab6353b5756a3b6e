"""Readings one after the other: how many independent ones they are worth, and whether they drift."""

from __future__ import annotations

import math
from functools import lru_cache
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


class Drift(NamedTuple):
    """Slope and its standard uncertainty [unit of the readings per unit of time], t value and dof [-]."""

    slope: float
    u_slope: float
    t: float
    dof: float


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


def drift_of(times: ArrayLike, readings: ArrayLike) -> Drift:
    """Return the slope of readings over time and its t value, to hold against Student's t at dof.

    times [any unit of time], readings [their unit]: shape (n,), n at least 3.
    Raises: ReadingsError.
    Source: JCGM 100:2008, H.3.2 and H.3.3 (ordinary straight line).
    """
    when, values = checked_readings(times, 3), checked_readings(readings, 3)
    if when.size != values.size or np.ptp(when) == 0.0:
        raise ReadingsError("a drift needs as many times as readings, and not all at one time")
    lag = when - when.mean()
    square = float(lag @ lag)
    slope = float(lag @ (values - values.mean())) / square
    left = values - values.mean() - slope * lag
    dof = values.size - 2
    u_slope = math.sqrt(float(left @ left) / dof / square)
    t = slope / u_slope if u_slope > 0.0 else math.copysign(math.inf, slope) if slope else 0.0
    return Drift(slope, u_slope, t, float(dof))


def von_neumann_ratio(readings: ArrayLike) -> float:
    """Return the sum of squared steps over the sum of squared deviations [-]: near 2 for white noise, small in drift.

    Raises: ReadingsError where there are fewer than 3 readings or nothing varies.
    Source: J. von Neumann, Ann. Math. Statist. 12 (1941) 367 (from memory).
    """
    values = checked_readings(readings, 3)
    away = values - values.mean()
    square = float(away @ away)
    if square == 0.0:
        raise ReadingsError("all readings are alike: steps against scatter say nothing")
    steps = np.diff(values)
    return float(steps @ steps) / square


@lru_cache(maxsize=256)
def von_neumann_limit(count: int, false_alarm: float = 0.05) -> float:
    """Return the ratio that white normal noise of n readings stays above but for a share of false alarms [-].

    count: from 4. false_alarm: [-], below 0.5.
    Raises: ReadingsError.
    Source: eigenvalues 2 - 2 cos(pi k/n), J. von Neumann 1941; distribution by J. P. Imhof, Biometrika 48 (1961) 419
    (both from memory), inverted by bisection.
    """
    if count < 4 or not 0.0 < false_alarm < 0.5:
        raise ReadingsError(f"needs at least 4 readings and a share below 0.5; got {count}, {false_alarm!r}")
    eigenvalues = 2.0 - 2.0 * np.cos(math.pi * np.arange(1, count) / count)
    low, high = float(eigenvalues[0]), 2.0
    for _ in range(32):
        middle = 0.5 * (low + high)
        if _below_zero(eigenvalues - middle) < false_alarm:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def _below_zero(weights: FloatArray) -> float:
    """Return the probability that a weighted sum of squares of standard normal numbers is below zero [-].

    Imhof's integral of sin(theta(x))/(x rho(x)) with x = exp(y), by the trapezoid rule.
    """
    y, step = np.linspace(-24.0, 24.0, 961, retstep=True)
    scaled = np.exp(y)[:, np.newaxis] * weights
    theta = 0.5 * np.arctan(scaled).sum(axis=1)
    log_rho = 0.25 * np.log1p(np.square(scaled)).sum(axis=1)
    return float(0.5 - np.sum(np.sin(theta) * np.exp(-log_rho)) * step / math.pi)
