"""Whether a second application could decide a point that is too close to call."""

from __future__ import annotations

import math

from flueproof.bench.judgement import PointJudgement
from flueproof.metrology.conformity import DecisionRule, guard_band

SHRINKING = {"settling", "noise", "repeatability"}
CLOSE_RISK = 0.05  # specific risk of the statement above which a decided point is close
MOVING_SHARE = 0.2  # least share of the variance that differs between applications


def chance_of_deciding(point: PointJudgement, rule: DecisionRule) -> float:
    """Return the probability that one more application turns an undecided point into a statement [0..1].

    With n applications of scatter s each, the mean moves by a normal amount of variance s^2/(n(n+1)), and the part
    of u that shrinks goes from s^2/n to s^2/(n+1); the reference's part and the display step stay.
    Source: own derivation from JCGM 100:2008, 4.2 and 5.2.2.
    """
    count = point.repeats
    moving = sum(line.u**2 for line in point.budget if line.name in SHRINKING)
    fixed = sum(line.u**2 for line in point.budget if line.name not in SHRINKING)
    scatter = moving * count
    u_new = math.sqrt(fixed + scatter / (count + 1))
    if u_new <= 0.0 or not math.isfinite(point.error):
        return 0.0
    guard = float(guard_band(rule, point.limit, u_new, math.inf, point.k))
    spread = math.sqrt(scatter / (count * (count + 1)))
    inside, outside = point.limit - guard, point.limit + guard
    if spread == 0.0:
        return float(abs(point.error) <= inside or abs(point.error) > outside)
    magnitude = abs(point.error)
    conform = _below((inside - magnitude) / spread) if inside > 0 else 0.0
    return min(1.0, conform + 1.0 - _below((outside - magnitude) / spread))


def is_close(point: PointJudgement) -> bool:
    """Tell whether a decided point lies so near its limit that one application is thin ground.

    Only a first application, only where the statement may well be wrong, and only where a repeat moves the error.
    Source: own rule (CLOSE_RISK and MOVING_SHARE: common practice, no source).
    """
    if point.statement == "undecided" or point.repeats > 1 or point.caveat is not None or point.u <= 0.0:
        return False
    moving = sum(line.u**2 for line in point.budget if line.name in SHRINKING)
    return point.risk > CLOSE_RISK and moving / point.u**2 > MOVING_SHARE


def _below(z: float) -> float:
    return 0.5 * math.erfc(-z / math.sqrt(2.0))
