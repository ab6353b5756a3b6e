"""What repeated readings say: mean, scatter, pooled scatter, and how well the scatter itself is known."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from flueproof.metrology.errors import ReadingsError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]


class MeanOf(NamedTuple):
    """Mean, standard deviation of one reading, standard uncertainty of the mean [unit of the readings]; dof [-]."""

    mean: float
    s: float
    u: float
    dof: float


class PooledScatter(NamedTuple):
    """Standard deviation of one reading, pooled over groups [unit of the readings], and its degrees of freedom [-]."""

    s: float
    dof: float


class BetweenWithin(NamedTuple):
    """Analysis of variance of equal groups.

    s_between, s_within: scatter of the groups' own level and of one reading in its group; u_mean: standard
    uncertainty of the mean of all, with the groups' scatter in it [unit of the readings]. dof: of u_mean [-].
    f_ratio: mean square between over within [-]; mean_square_between, mean_square_within [unit squared].
    """

    s_between: float
    s_within: float
    u_mean: float
    dof: float
    f_ratio: float
    mean_square_between: float
    mean_square_within: float


def mean_of(readings: ArrayLike) -> MeanOf:
    """Return mean and scatter of independent readings [unit of the readings], shape (n,), n at least 2.

    Several looks at one application of the gas are no independent readings: see `series.autocorrelation`.
    Raises: ReadingsError.
    Source: JCGM 100:2008, 4.2.1 to 4.2.3 and 4.2.6.
    """
    values = checked_readings(readings, 2)
    s = float(values.std(ddof=1))
    return MeanOf(float(values.mean()), s, s / math.sqrt(values.size), float(values.size - 1))


def pooled_s(groups: Sequence[ArrayLike]) -> PooledScatter:
    """Return the scatter of one reading over groups that share it but not their mean [unit of the readings].

    groups: each of shape (n,); groups of one reading bring nothing.
    Raises: ReadingsError where no group has two readings.
    Source: JCGM 100:2008, 4.2.4, H.3.6 note.
    """
    checked = [checked_readings(group, 1) for group in groups]
    return pooled_from([float(group.std(ddof=1)) for group in checked if group.size > 1],
                       [float(group.size - 1) for group in checked if group.size > 1])  # fmt: skip


def pooled_from(deviations: ArrayLike, dof: ArrayLike) -> PooledScatter:
    """Return the scatter that several standard deviations stand for together [unit of the readings].

    deviations, dof: shape (groups,), one pair per group, dof [-] above zero.
    Raises: ReadingsError.
    Source: JCGM 100:2008, 4.2.4, H.3.6 note.
    """
    s, nu = np.asarray(deviations, dtype=np.float64), np.asarray(dof, dtype=np.float64)
    if s.shape != nu.shape or s.ndim != 1 or s.size == 0:
        raise ReadingsError("pooling needs at least one group of two readings; got none")
    if not (np.isfinite(s).all() and (s >= 0.0).all() and np.isfinite(nu).all() and (nu > 0.0).all()):
        raise ReadingsError("pooling needs finite standard deviations and degrees of freedom above zero")
    total = float(nu.sum())
    return PooledScatter(math.sqrt(float(nu @ (s * s)) / total), total)


def between_within(groups: ArrayLike) -> BetweenWithin:
    """Return how readings scatter between groups (days, applications) and within them.

    groups: shape (groups, readings), at least 2 by 2 [unit of the readings].
    Raises: ReadingsError.
    Source: JCGM 100:2008, H.5.2.
    """
    values = np.asarray(groups, dtype=np.float64)
    if values.ndim != 2 or min(values.shape) < 2 or not np.isfinite(values).all():
        raise ReadingsError("between and within need at least two groups of two finite readings, all groups of a size")
    return between_within_from(values.mean(axis=1), values.std(axis=1, ddof=1), values.shape[1])


def between_within_from(means: ArrayLike, deviations: ArrayLike, readings: int) -> BetweenWithin:
    """Return the same from the groups' means and standard deviations [unit of the readings], shape (groups,).

    readings: number of readings in each group, at least 2. A between variance that comes out negative is zero.
    Raises: ReadingsError.
    Source: JCGM 100:2008, H.5.2.2 to H.5.2.4.
    """
    levels, scatter = checked_readings(means, 2), checked_readings(deviations, 2)
    if levels.size != scatter.size or readings < 2:
        raise ReadingsError("every group needs a mean, a standard deviation and at least two readings")
    between = readings * float(levels.var(ddof=1))
    within = float(np.mean(scatter**2))
    ratio = between / within if within > 0.0 else math.inf
    return BetweenWithin(
        math.sqrt(max(between - within, 0.0) / readings), math.sqrt(within),
        math.sqrt(between / readings / levels.size),
        float(levels.size - 1), ratio, between, within,
    )  # fmt: skip


def doubt_of_s(readings: int) -> float:
    """Return the relative standard deviation of a standard deviation from n normal readings [-].

    Raises: ReadingsError below 2 readings.
    Source: JCGM 100:2008, E.4.3, Table E.1.
    """
    if readings < 2:
        raise ReadingsError(f"scatter needs at least 2 readings; got {readings}")
    log_c4 = math.lgamma(readings / 2.0) - math.lgamma((readings - 1) / 2.0)
    c4 = math.sqrt(2.0 / (readings - 1)) * math.exp(log_c4)
    return math.sqrt(1.0 - c4 * c4) / c4


def dof_from_doubt(relative_doubt: float) -> float:
    """Return the degrees of freedom of an uncertainty that is itself known to a relative doubt [-].

    Raises: ReadingsError where the doubt is not above zero.
    Source: JCGM 100:2008, G.4.2, equation (G.3).
    """
    if not relative_doubt > 0.0:
        raise ReadingsError(f"the relative doubt must be above zero; got {relative_doubt!r}")
    return 0.5 / relative_doubt**2


def checked_readings(readings: ArrayLike, fewest: int) -> FloatArray:
    """Return readings as a float64 array of shape (n,) [their unit], all finite and at least so many.

    Raises: ReadingsError.
    Source: common practice, no source.
    """
    values = np.asarray(readings, dtype=np.float64)
    if values.ndim != 1 or values.size < fewest:
        raise ReadingsError(f"at least {fewest} readings in one row are needed; got shape {values.shape}")
    if not np.isfinite(values).all():
        raise ReadingsError("readings must be finite numbers; leave out OVER, dashes and gaps before")
    return values
