"""What a bottle can decide, before it is bought or used."""

from __future__ import annotations

import math
from dataclasses import dataclass

from flueproof.metrology.conformity import DecisionRule, guard_band
from flueproof.testgas.errors import DecidingError


@dataclass(frozen=True, slots=True)
class DecidingPower:
    """What a reference can say against +/-limit under a decision rule; all in the limit's unit unless said.

    expanded_bottle: k times the bottle's u; u, expanded: of the whole error; guard: w of the rule; share_pct: of the
    limit that the bottle's expanded uncertainty eats [%]; guard_share_pct: of the limit that the guard band eats [%];
    tur: limit over expanded [-]; largest_conform: largest |error| still called conform, None when none can be;
    smallest_not_conform: |error| above which it is called not conform; in_words: one or two sentences.
    """

    rule: str
    limit: float
    expanded_bottle: float
    u: float
    expanded: float
    guard: float
    share_pct: float
    guard_share_pct: float
    tur: float
    largest_conform: float | None
    smallest_not_conform: float
    in_words: str

    @property
    def can_conform(self) -> bool:
        """Return whether any reading at all could be called conform (JCGM 106:2012, 8.3)."""
        return self.largest_conform is not None

    def meets_ratio(self, ratio: float = 3.0) -> bool:
        """Return whether the bottle's uncertainty to the limit is at most 1:ratio.

        Source: OIML R 144-1:2013, 7.2.2.2 (1:3; 1:2 where the authority allows).
        """
        return self.expanded_bottle * ratio <= self.limit * (1.0 + 1e-12)


def can_decide(
    u_bottle: float,
    other_u: float,
    limit: float,
    rule: DecisionRule,
    *,
    dof: float = math.inf,
    k: float = 2.0,
    unit: str = "",
) -> DecidingPower:
    """Return what a bottle can decide against a limit.

    u_bottle: standard uncertainty of the reference [unit]; other_u: all the rest, settling, repeat, display [unit];
    limit: largest permitted |error| [unit], above zero; dof: of the combined u [-]; k: coverage factor [-]; unit: for
    the words.
    Raises: DecidingError.
    Source: JCGM 106:2012, 8.3 (guarded acceptance and rejection); rules: metrology.conformity.
    """
    if not (math.isfinite(limit) and limit > 0.0):
        raise DecidingError(f"limit {limit!r} must be above zero.")
    if not (math.isfinite(u_bottle) and math.isfinite(other_u) and u_bottle >= 0.0 and other_u >= 0.0):
        raise DecidingError(f"uncertainties {u_bottle!r} and {other_u!r} must be numbers not below zero.")
    u = math.hypot(u_bottle, other_u)
    if u == 0.0:
        raise DecidingError("both uncertainties are zero: no reference is that good, enter its certificate.")
    guard = float(guard_band(rule, limit, u, dof, k))
    largest = limit - guard if guard <= limit else None
    share, tail = 100.0 * k * u_bottle / limit, f" {unit}".rstrip()
    head = f"The bottle's expanded uncertainty eats {share:.0f} % of the limit {limit:.3g}{tail}"
    if largest is None:
        said = f"{head}; under this rule no reading on it can be called conform"
    else:
        said = f"{head}; an error up to {largest:.3g}{tail} can be called conform"
    return DecidingPower(
        rule=rule.name,
        limit=limit,
        expanded_bottle=k * u_bottle,
        u=u,
        expanded=k * u,
        guard=guard,
        share_pct=share,
        guard_share_pct=100.0 * guard / limit,
        tur=limit / (k * u),
        largest_conform=largest,
        smallest_not_conform=limit + guard,
        in_words=f"{said}, one above {limit + guard:.3g}{tail} not conform.",
    )


def largest_bottle_u(
    other_u: float, limit: float, rule: DecisionRule, error: float, *, dof: float = math.inf, k: float = 2.0
) -> float | None:
    """Return the largest standard uncertainty of a bottle on which this |error| is still called conform [unit].

    other_u, limit, error [unit]; Returns: None when no bottle, however good, can do it; `inf` when any can.
    Raises: DecidingError.
    Source: JCGM 106:2012, 8.3, solved for u by bisection; the guard band grows with u.
    """
    if not error >= 0.0:
        raise DecidingError(f"error {error!r}: give its size, not below zero.")

    def holds(u_bottle: float) -> bool:
        largest = can_decide(u_bottle, other_u, limit, rule, dof=dof, k=k).largest_conform
        return largest is not None and error <= largest

    low, high = 1e-9 * limit, 10.0 * limit
    if not holds(low):
        return None
    if holds(high):
        return math.inf
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low
