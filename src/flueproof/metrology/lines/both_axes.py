"""A straight line through points that are uncertain in both axes, by generalized least squares with full covariance."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from flueproof.metrology.errors import LineInputError
from flueproof.metrology.lines.straight import StraightLine, point_arrays

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]

_STEPS = 200
_NOISE = 1.0e-10  # of chi-square, far above rounding and far below anything that matters
_SMALL = 1.0e-8  # of the uncertainty; the last step of a Newton search squares it


@dataclass(frozen=True, slots=True, eq=False)
class BothAxesLine:
    """A line through points uncertain in both axes.

    line: StraightLine with uncertainties by the adjusted points (ISO/TS 28037:2010, clause 7; York et al. 2004);
    propagated: covariance of intercept and slope by full propagation of every input through the fit, shape (2, 2)
    (Kalantar 1992); the two differ by about the ratio of misfit to slope, a per cent on Pearson's data;
    x_adjusted, y_adjusted: the points moved onto the line [units of the axes], shape (points,).
    """

    line: StraightLine
    propagated: FloatArray
    x_adjusted: FloatArray
    y_adjusted: FloatArray


def line_in_both_axes(
    x: ArrayLike, y: ArrayLike, u_x: ArrayLike, u_y: ArrayLike, covariance_xy: ArrayLike | None = None
) -> BothAxesLine:
    """Return the line y = a + b x that fits best where x and y are uncertain and may be correlated.

    x, y [units of the axes], shape (points,), at least three; u_x, u_y: standard uncertainties [units of the axes],
    one for all or shape (points,), or full covariances [units squared], shape (points, points) (gases of one
    supplier share a part of theirs); covariance_xy: between x and y [product of units], shape (points, points), rows
    x, None for none.
    Returns: BothAxesLine; its chi_square is the minimum reached.
    Raises: LineInputError also where the search does not settle (a line too steep or too scattered to be one).
    Source: ISO/TS 28037:2010, clauses 7 to 10; York et al. 2004, American Journal of Physics 72; ISO 6143:2001, with
    response as x and content as y.
    """
    xs, ys = point_arrays(x, y)
    of_x, of_y = covariance_matrix(u_x, xs.size), covariance_matrix(u_y, xs.size)
    cross = np.zeros_like(of_x) if covariance_xy is None else np.asarray(covariance_xy, dtype=np.float64)
    if cross.shape != of_x.shape:
        raise LineInputError(f"the covariance between the axes must have shape {of_x.shape}; got {cross.shape}")
    problem = _Problem(xs, ys, of_x, of_y, cross + cross.T, cross)
    parameters = _search(problem)
    state = problem.at(parameters)
    return BothAxesLine(
        line=_line(parameters, np.asarray(np.linalg.inv(state.gauss), dtype=np.float64), state.chi_square, xs.size),
        propagated=problem.propagated(state),
        x_adjusted=state.x_adjusted,
        y_adjusted=parameters[0] + parameters[1] * state.x_adjusted,
    )


def covariance_matrix(u: ArrayLike, points: int) -> FloatArray:
    """Return a covariance of shape (points, points) [unit squared] from uncertainties [unit] or a covariance.

    Raises: LineInputError.
    Source: ISO/TS 28037:2010, clause 9.
    """
    given = np.asarray(u, dtype=np.float64)
    if not np.isfinite(given).all():
        raise LineInputError("every uncertainty must be a finite number")
    if given.shape == (points, points):
        if not np.allclose(given, given.T, rtol=1e-9, atol=0.0):
            raise LineInputError("a covariance must be symmetric")
        return given
    if given.shape not in ((), (points,)) or (given < 0.0).any():
        raise LineInputError(f"uncertainties must not be negative: one for all, {points}, or {points} by {points}")
    return np.diag(np.broadcast_to(given, (points,)) ** 2)


@dataclass(frozen=True, slots=True, eq=False)
class _State:
    slope: float
    chi_square: float
    weight: FloatArray  # inverse covariance of the misfits y - a - b x
    weighted_misfit: FloatArray
    half_change: FloatArray  # half the derivative of that covariance by b
    x_middle: FloatArray  # x moved by it; the place of the points in the gradient
    x_adjusted: FloatArray
    gauss: FloatArray
    hessian: FloatArray
    gradient: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class _Problem:
    """Misfit f = y - a - b x with covariance V = Vy - b (Vxy + Vyx) + b^2 Vx; minimize f' V^-1 f over a and b."""

    x: FloatArray
    y: FloatArray
    of_x: FloatArray
    of_y: FloatArray
    mixed: FloatArray
    cross: FloatArray

    def at(self, parameters: FloatArray) -> _State:
        intercept, slope = (float(value) for value in parameters)
        spread = self.of_y - slope * self.mixed + slope**2 * self.of_x
        try:
            weight = np.linalg.inv(np.linalg.cholesky(spread))
        except np.linalg.LinAlgError:
            raise LineInputError("the points' covariance leaves a point, or a sum of points, exactly known") from None
        weight = weight.T @ weight
        misfit = self.y - intercept - slope * self.x
        weighted = weight @ misfit
        half_change = slope * self.of_x - 0.5 * self.mixed
        middle = self.x + half_change @ weighted
        adjusted = self.x + (slope * self.of_x - self.cross) @ weighted
        ones = np.ones_like(adjusted)
        design = np.stack([ones, adjusted])
        turned = self.x + 2.0 * (half_change @ weighted)
        bend = -float(weighted @ (self.of_x @ weighted)) + float(weighted @ (half_change @ (weight @ turned)))
        low = float(ones @ weight @ turned)
        hessian = np.array([[ones @ weight @ ones, low], [low, middle @ weight @ turned + bend]])
        return _State(
            slope=slope,
            chi_square=float(misfit @ weighted),
            weight=weight,
            weighted_misfit=weighted,
            half_change=half_change,
            x_middle=middle,
            x_adjusted=adjusted,
            gauss=design @ weight @ design.T,
            hessian=hessian,
            gradient=-design @ weighted,
        )

    def propagated(self, state: _State) -> FloatArray:
        """Covariance of (a, b) when each input is moved and the minimum followed: H^-1 M V M' H^-1."""
        pull = state.half_change @ state.weight
        by_misfit = -np.stack([state.weight.sum(axis=0), state.x_middle @ state.weight + state.weighted_misfit @ pull])
        by_y = by_misfit
        by_x = -state.slope * by_misfit
        by_x[1] -= state.weighted_misfit
        spread = by_x @ self.of_x @ by_x.T + by_y @ self.of_y @ by_y.T
        tie = by_x @ self.cross @ by_y.T
        inverse = np.linalg.inv(state.hessian)
        return np.asarray(inverse @ (spread + tie + tie.T) @ inverse, dtype=np.float64)


def _search(problem: _Problem) -> FloatArray:
    parameters: FloatArray = np.asarray(
        np.polynomial.polynomial.polyfit(problem.x - problem.x.mean(), problem.y, 1), dtype=np.float64
    )
    parameters[0] -= parameters[1] * problem.x.mean()
    state = problem.at(parameters)
    for _ in range(_STEPS):
        convex = state.hessian[0, 0] > 0.0 and float(np.linalg.det(state.hessian)) > 0.0
        step = -np.linalg.solve(state.hessian if convex else state.gauss, state.gradient)
        if np.all(np.abs(step) <= _SMALL * np.sqrt(np.diag(np.linalg.inv(state.gauss)))):
            return np.asarray(parameters + step, dtype=np.float64)
        for _halving in range(60):
            following = problem.at(parameters + step)
            if following.chi_square <= state.chi_square * (1.0 + _NOISE) + _NOISE:
                break
            step = 0.5 * step
        else:
            return np.asarray(parameters, dtype=np.float64)
        parameters, state = parameters + step, following
    raise LineInputError(
        f"no straight line was found in {_STEPS} steps; look for exchanged axes or a wrong uncertainty"
    )


def _line(parameters: FloatArray, covariance: FloatArray, chi_square: float, points: int) -> StraightLine:
    return StraightLine(
        intercept=float(parameters[0]),
        slope=float(parameters[1]),
        u_intercept=math.sqrt(covariance[0, 0]),
        u_slope=math.sqrt(covariance[1, 1]),
        covariance=float(covariance[0, 1]),
        dof=math.inf,
        chi_square=chi_square,
        residual_dof=points - 2,
    )
