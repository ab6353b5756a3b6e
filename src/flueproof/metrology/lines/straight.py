"""Straight lines y = a + b x: through scattered points, through points of known uncertainty, through the origin."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from flueproof.metrology.errors import LineInputError
from flueproof.metrology.lines.least_squares import LinearFit, fit_linear

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class StraightLine:
    """A line y = a + b x with the uncertainty of its parameters.

    intercept, u_intercept [unit of y]; slope, u_slope [unit of y over unit of x]; covariance of both; dof of these
    uncertainties [-], `inf` where the points' uncertainties were known; chi_square: weighted sum of squares left over
    [-], None where no uncertainties were given; residual_dof: points minus 2 [-].
    Source: ISO/TS 28037:2010, clauses 6 and 7.
    """

    intercept: float
    slope: float
    u_intercept: float
    u_slope: float
    covariance: float
    dof: float
    chi_square: float | None
    residual_dof: int

    @property
    def correlation(self) -> float:
        """Correlation coefficient of intercept and slope [-], 0 where both are exactly known.

        Source: JCGM 100:2008, H.3.2, equation (H.13e).
        """
        spread = self.u_intercept * self.u_slope
        return self.covariance / spread if spread > 0.0 else 0.0


@dataclass(frozen=True, slots=True)
class ScatterLine:
    """A line whose uncertainty comes from the scatter of the points about it.

    line: its StraightLine; residual_sd [unit of y]; points [-]; x_mean [unit of x], y_mean [unit of y]; x_spread: sum
    of squared deviations of x [unit of x squared]; r_squared [-]; residual_sum [unit of y squared].
    Source: JCGM 100:2008, H.3.
    """

    line: StraightLine
    residual_sd: float
    points: int
    x_mean: float
    y_mean: float
    x_spread: float
    r_squared: float
    residual_sum: float

    @property
    def f_statistic(self) -> float:
        """Variance explained by the slope over residual variance [-].

        Source: NIST StRD, analysis of variance of the linear datasets.
        """
        if self.residual_sd == 0.0:
            return math.inf
        return self.line.slope**2 * self.x_spread / self.residual_sd**2


def ordinary_line(x: ArrayLike, y: ArrayLike) -> ScatterLine:
    """Return the line through points whose scatter in y is unknown and alike everywhere; x exactly known.

    x [unit of x], y [unit of y], shape (points,), at least three, not all x alike.
    Raises: LineInputError.
    Source: JCGM 100:2008, H.3; ISO/TS 28037:2010, Annex E (unknown uncertainty).
    """
    xs, ys = point_arrays(x, y)
    center = float(xs.mean())
    fit = fit_linear(np.column_stack([np.ones_like(xs), xs - center]), ys)
    return ScatterLine(
        line=_moved_line(fit, center, float(fit.dof)),
        residual_sd=fit.residual_sd,
        points=xs.size,
        x_mean=center,
        y_mean=float(ys.mean()),
        x_spread=float(np.sum((xs - center) ** 2)),
        r_squared=fit.r_squared,
        residual_sum=fit.residual_sum,
    )


def weighted_line(x: ArrayLike, y: ArrayLike, u_y: ArrayLike) -> StraightLine:
    """Return the line through points of known, independent uncertainty in y; x exactly known.

    x [unit of x], y [unit of y], shape (points,), at least three; u_y: standard uncertainties [unit of y], positive,
    one for all or shape (points,).
    Raises: LineInputError.
    Source: ISO/TS 28037:2010, clause 6.
    """
    xs, ys = point_arrays(x, y)
    us = positive_uncertainties(u_y, xs.size)
    weights = us**-2.0
    center = float(np.sum(weights * xs) / np.sum(weights))
    fit = fit_linear(np.column_stack([1.0 / us, (xs - center) / us]), ys / us)
    return _moved_line(fit, center, math.inf)


def line_through_origin(x: ArrayLike, y: ArrayLike) -> LinearFit:
    """Return the fit of y = b x: scatter in y unknown and alike everywhere.

    x [unit of x], y [unit of y], shape (points,), at least two.
    Raises: LineInputError.
    Source: NIST StRD, model of the NoInt1 and NoInt2 datasets.
    """
    xs, ys = np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
    return fit_linear(xs.reshape(-1, 1), ys)


def point_arrays(x: ArrayLike, y: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Return x [unit of x] and y [unit of y] as float64 of one shape (points,), at least three points.

    Raises: LineInputError.
    Source: common practice, no source.
    """
    xs, ys = np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
    if xs.ndim != 1 or xs.shape != ys.shape or xs.size < 3:
        raise LineInputError(f"a line with its uncertainty needs three points or more; got x {xs.shape}, y {ys.shape}")
    if not (np.isfinite(xs).all() and np.isfinite(ys).all()):
        raise LineInputError("every x and y must be a finite number")
    if np.ptp(xs) == 0.0:
        raise LineInputError(f"all x are {xs[0]}; a slope needs at least two different ones")
    return xs, ys


def positive_uncertainties(u: ArrayLike, points: int) -> FloatArray:
    """Return standard uncertainties as float64 of shape (points,) [unit of the axis], positive and finite.

    Raises: LineInputError.
    Source: common practice, no source.
    """
    us = np.asarray(u, dtype=np.float64)
    if us.shape not in ((), (points,)) or not (np.isfinite(us).all() and (us > 0.0).all()):
        raise LineInputError(f"uncertainties must be above zero, one for all or one for each of {points} points")
    return np.broadcast_to(us, (points,))


def _moved_line(fit: LinearFit, center: float, dof: float) -> StraightLine:
    """Turn a fit about a center, by scatter (finite dof) or by known uncertainties, into intercept and slope."""
    known = math.isinf(dof)
    matrix = fit.cofactors if known else fit.covariance
    middle, slope = (float(value) for value in fit.coefficients)
    var_middle, var_slope, tie = float(matrix[0, 0]), float(matrix[1, 1]), float(matrix[0, 1])
    return StraightLine(
        intercept=middle - slope * center,
        slope=slope,
        u_intercept=math.sqrt(max(var_middle + center**2 * var_slope - 2.0 * center * tie, 0.0)),
        u_slope=math.sqrt(var_slope),
        covariance=tie - center * var_slope,
        dof=dof,
        chi_square=fit.residual_sum if known else None,
        residual_dof=fit.dof,
    )
