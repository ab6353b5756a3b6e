"""The course of a span factor from day to day: jumps between two points, and the control limits of all.

Two rules, both stated on the chart. The jump rule looks at one step and needs nothing but uncertainties. The control
limits look at all points before and need at least eight.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from flueproof.testgas.errors import SpanFactorError
from flueproof.testgas.span.factor import SpanFactor

JUMP_U = 3.0  # three standard uncertainties, as the three sigma of a control chart
D2 = 1.128  # mean range of two normal values over their sigma
FEWEST = 8  # own choice: fewer points make no limits worth the name
RUN = 8  # points on one side of the center line


@dataclass(frozen=True, slots=True)
class Jump:
    """One step of the course: difference of two factors, its standard uncertainty, their ratio, all [-]."""

    difference: float
    u: float
    score: float
    is_jump: bool


@dataclass(frozen=True, slots=True)
class ControlLimits:
    """Center line and three-sigma limits of single values [unit of the values]; sigma from the moving range."""

    center: float
    low: float
    high: float
    sigma: float


def control_limits(values: Sequence[float]) -> ControlLimits | None:
    """Return the limits of single values [any unit], None for fewer than eight of them.

    Raises: SpanFactorError for a value that is not finite.
    Source: NIST/SEMATECH e-Handbook, 6.3.2.2 (individuals chart: mean +/- 3 mean moving range / 1.128).
    """
    if not all(math.isfinite(one) for one in values):
        raise SpanFactorError("a control chart needs finite values.")
    if len(values) < FEWEST:
        return None
    center = math.fsum(values) / len(values)
    sigma = moving_sigma(values)
    return ControlLimits(center, center - 3.0 * sigma, center + 3.0 * sigma, sigma)


def moving_sigma(values: Sequence[float]) -> float:
    """Return sigma from the mean moving range of two [unit of the values], 0 for fewer than two values.

    Source: NIST/SEMATECH e-Handbook, 6.3.2.2.
    """
    ranges = [abs(after - before) for before, after in itertools.pairwise(values)]
    return math.fsum(ranges) / len(ranges) / D2 if ranges else 0.0


def jump(before: SpanFactor, after: SpanFactor, scatter: float = 0.0) -> Jump:
    """Return whether a factor jumped against the one before: further than three standard uncertainties.

    scatter: sigma of the chart so far [-], which holds what changes from day to day; the larger of it and the budget
    counts. On the same certificate only the readings differ.
    Raises: SpanFactorError where nothing at all is uncertain.
    Source: own rule after the three sigma of NIST/SEMATECH e-Handbook, 6.3.2; uncertainty: JCGM 100:2008, 5.1.2.
    """
    shared = before.cause == after.cause
    readings = max(math.hypot(before.u_reading, after.u_reading), math.sqrt(2.0) * scatter)
    papers = 0.0 if shared else math.hypot(before.u_certificate, after.u_certificate)
    u = math.hypot(readings, papers)
    if u == 0.0:
        raise SpanFactorError("two readings without any uncertainty cannot be compared.")
    difference = after.value - before.value
    score = difference / u
    return Jump(difference, u, score, abs(score) > JUMP_U)


def beyond_limits(value: float, limits: ControlLimits) -> bool:
    """Return whether a single value lies beyond three sigma [unit of the limits].

    Source: NIST/SEMATECH e-Handbook, 6.3.2 (the first of the four rules there).
    """
    return not limits.low <= value <= limits.high


def runs_on_one_side(values: Sequence[float], center: float) -> bool:
    """Return whether the last eight values lie on one side of the center line [unit of the values].

    Source: NIST/SEMATECH e-Handbook, 6.3.2 (the last of the four rules there).
    """
    last = values[-RUN:]
    return len(last) == RUN and (all(one > center for one in last) or all(one < center for one in last))
