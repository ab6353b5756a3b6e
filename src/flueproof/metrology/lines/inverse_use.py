"""A line used: forward to y, backward to x, each with its uncertainty; Fieller's interval where the slope is unsure."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from flueproof.metrology.coverage import LEVEL, coverage_factor
from flueproof.metrology.errors import LineInputError, LineInversionError

if TYPE_CHECKING:
    from flueproof.metrology.lines.straight import ScatterLine, StraightLine


class LineValue(NamedTuple):
    """A value from a line and its standard uncertainty [unit of its axis].

    Source: ISO/TS 28037:2010, clause 11.
    """

    value: float
    u: float


class LineInterval(NamedTuple):
    """Estimate and ends of an interval [unit of x].

    Source: Fieller 1954, Journal of the Royal Statistical Society B 16.
    """

    estimate: float
    low: float
    high: float


def read_forward(line: StraightLine, x: float, u_x: float = 0.0) -> LineValue:
    """Return y at x [unit of y] with the uncertainty of line and x.

    x, u_x [unit of x], independent of the points of the line.
    Raises: LineInputError.
    Source: ISO/TS 28037:2010, 11.2; JCGM 100:2008, H.3.4.
    """
    _checked(x, u_x)
    return LineValue(line.intercept + line.slope * x, math.hypot(_line_u(line, x), line.slope * u_x))


def read_back(line: StraightLine, y: float, u_y: float = 0.0) -> LineValue:
    """Return x at y [unit of x] with the uncertainty of line and y.

    y, u_y [unit of y], independent of the points of the line. First order: wants a slope well away from zero.
    Raises: LineInputError; LineInversionError where the slope is below twice its uncertainty.
    Source: ISO/TS 28037:2010, 11.3.
    """
    _checked(y, u_y)
    _steep_enough(line)
    x = (y - line.intercept) / line.slope
    return LineValue(x, math.hypot(_line_u(line, x), u_y) / abs(line.slope))


def read_back_covariance(line: StraightLine, first_y: float, second_y: float) -> float:
    """Return the covariance of two x read back from one line [unit of x squared], by the line they share.

    first_y, second_y [unit of y].
    Raises: LineInversionError.
    Source: ISO 6143:2001, Annex B (results of one analysis function); JCGM 100:2008, 5.2.2.
    """
    _steep_enough(line)
    one, two = ((y - line.intercept) / line.slope for y in (first_y, second_y))
    shared = line.u_intercept**2 + (one + two) * line.covariance + one * two * line.u_slope**2
    return shared / line.slope**2


def read_back_scatter(fit: ScatterLine, y_mean: float, repeats: int | None = 1) -> LineValue:
    """Return x at the mean of new readings [unit of x], uncertainty from the scatter about the line.

    y_mean [unit of y]; repeats: number of new readings in it [-], None where y_mean is the line's own mean response
    and carries no scatter.
    Raises: LineInputError, LineInversionError.
    Source: Massart et al. 1997, Handbook of Chemometrics and Qualimetrics A, 8.2; EURACHEM/CITAC CG 4, E.3 and A5.
    """
    _checked(y_mean, 0.0)
    _steep_enough(fit.line)
    x = (y_mean - fit.line.intercept) / fit.line.slope
    spread = _own_share(repeats) + 1.0 / fit.points + (x - fit.x_mean) ** 2 / fit.x_spread
    return LineValue(x, fit.residual_sd / abs(fit.line.slope) * math.sqrt(spread))


def fieller_interval(fit: ScatterLine, y_mean: float, repeats: int | None = 1, level: float = LEVEL) -> LineInterval:
    """Return the interval of x that new readings of mean y_mean allow, exact for normal scatter [unit of x].

    y_mean [unit of y]; repeats as in read_back_scatter; level of confidence [-].
    Raises: LineInputError, LevelError; LineInversionError where the slope is not significant at this level.
    Source: Fieller 1954; Graybill and Iyer 1994, Regression Analysis, chapter 6 (inverse use).
    """
    _checked(y_mean, 0.0)
    factor, slope = coverage_factor(fit.line.dof, level), fit.line.slope
    reach = (factor * fit.residual_sd) ** 2
    steep = slope**2 - reach / fit.x_spread
    if steep <= 0.0:
        raise LineInversionError(
            f"the slope {slope:g} is not different from zero at the level {level:g}: every x is possible; "
            "use points further apart or more of them"
        )
    away = y_mean - fit.y_mean
    half = math.sqrt(reach * (steep * (_own_share(repeats) + 1.0 / fit.points) + away**2 / fit.x_spread)) / steep
    center = fit.x_mean + slope * away / steep
    return LineInterval(fit.x_mean + away / slope, center - half, center + half)


def _line_u(line: StraightLine, x: float) -> float:
    variance = line.u_intercept**2 + 2.0 * x * line.covariance + (x * line.u_slope) ** 2
    return math.sqrt(max(variance, 0.0))


def _own_share(repeats: int | None) -> float:
    if repeats is None:
        return 0.0
    if repeats < 1:
        raise LineInputError(f"a mean of new readings needs at least one; got {repeats!r}")
    return 1.0 / repeats


def _steep_enough(line: StraightLine) -> None:
    if abs(line.slope) <= 2.0 * line.u_slope:
        raise LineInversionError(
            f"the slope {line.slope:g} is not above twice its uncertainty {line.u_slope:g}; "
            "reading such a line backwards has no useful uncertainty"
        )


def _checked(value: float, u: float) -> None:
    if not (math.isfinite(value) and math.isfinite(u) and u >= 0.0):
        raise LineInputError(f"a value must be finite and its uncertainty not negative; got {value!r} and {u!r}")
