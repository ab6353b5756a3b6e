"""Whether readings one after the other drift: slope over time, and steps against scatter."""

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


class Drift(NamedTuple):
    """Slope and its standard uncertainty [unit of the readings per unit of time], t value and dof [-]."""

    slope: float
    u_slope: float
    t: float
    dof: float


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
