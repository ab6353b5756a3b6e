"""When gas may be shut off: an online rule on the looks so far."""

from __future__ import annotations

import math
from dataclasses import dataclass

from flueproof.readings.response.prior import GENERIC, ResponsePrior
from flueproof.readings.settled import SettledValue
from flueproof.readings.settling import settle
from flueproof.readings.shown import ABOVE, ABSENT, Looks

AT_BOUND_S = 15.0  # how long a display must stand clamped or snapped to be believed; own choice
FLICKER_STEPS = 2.0  # own choice
SHARE_OF_LIMIT = 0.2  # what the settling part of U may be of the limit (issue 2)
K = 2.0


@dataclass(frozen=True, slots=True)
class Stop:
    """Whether gas may be shut off now.

    stop: yes or no; wait_s: about how much longer otherwise [s]; why: one plain sentence; settled: the value so far.
    """

    stop: bool
    wait_s: float
    why: str
    settled: SettledValue


def may_stop(
    looks_so_far: Looks,
    limit: float,
    hold_s: float,
    *,
    gas_on_s: float | None = None,
    start_value: float | None = None,
    prior: ResponsePrior | None = None,
    response_time_judged: bool = False,
    share: float = SHARE_OF_LIMIT,
) -> Stop:
    """Return whether the looks so far are enough, and about how long to wait when they are not.

    looks_so_far: with times [s]; limit: the error limit of the point [unit of the channel], above zero; hold_s: the
    profile's hold [s]; gas_on_s, start_value, prior: as in `settle`; response_time_judged: then the hold and T95 must
    have been seen on the display first; share: of the limit that the settling part of U may be [-].
    Raises: ValueError for a limit not above zero; what `settle` raises.
    Source: own rule (issue 2); k = 2.
    """
    if not limit > 0.0:
        raise ValueError(f"limit is {limit}; give the error limit of the point, above zero")
    allowed = share * limit
    settled = settle(
        looks_so_far, gas_on_s=gas_on_s, start_value=start_value, prior=prior, hold_s=hold_s, settling_allowed=allowed
    )
    if settled.bound == ABSENT:
        return Stop(False, hold_s, "The display shows no number yet.", settled)
    if looks_so_far.times_s is None:
        return Stop(True, 0.0, settled.reason, settled)
    on_s = float(looks_so_far.times_s[0]) if math.isnan(settled.gas_on_s) else settled.gas_on_s
    if settled.bound is not None:
        return _stop_at_bound(looks_so_far, settled, on_s if gas_on_s is None else gas_on_s, hold_s)
    seen_s = float(looks_so_far.times_s[-1]) - on_s
    knowledge = prior or GENERIC
    if math.isnan(settled.fast_s):
        # No step to fit: it may still come, so wait until a slow unit of this model would have shown it.
        ready_s = knowledge.mean[3] + 2.0 * knowledge.covariance[3][3] ** 0.5 + 3.0 * knowledge.fast_s
        ready_s = max(ready_s, hold_s if response_time_judged else 0.0)
        if seen_s < ready_s:
            return Stop(False, ready_s - seen_s, "No step shown so far; it may still come.", settled)
        if not settled.settled:
            return Stop(False, settled.more_s, settled.reason, settled)
        return Stop(True, 0.0, settled.reason, settled)
    if not settled.settled:
        return Stop(False, settled.more_s, settled.reason, settled)
    if response_time_judged and seen_s < hold_s:
        return Stop(False, hold_s - seen_s, "Response time is judged: the hold has not been seen.", settled)
    if response_time_judged and math.isinf(settled.t95_s):
        return Stop(False, settled.slow_s, "Response time is judged: 95 % of the step has not been shown.", settled)
    return Stop(True, 0.0, f"Settling is at most {K * settled.u_settling:.2g}, allowed {allowed:.2g}.", settled)


def _stop_at_bound(looks: Looks, settled: SettledValue, on_s: float, hold_s: float) -> Stop:
    """Stop at a clamped or snapped display only when it came there from elsewhere and stays, or after the hold.

    Before the gas has come through the hose a display stands where it stood, and the first look that moves is no end.
    A display above its range has said all it can.
    """
    assert looks.times_s is not None  # noqa: S101 -- the caller looked
    if settled.bound == ABOVE:
        return Stop(True, 0.0, settled.reason, settled)
    now_s = float(looks.times_s[-1])
    seen = [(float(value), bound) for value, bound in zip(looks.values, looks.bounds, strict=True)]
    edge = next((value for value, bound in reversed(seen) if bound == settled.bound), math.nan)
    near = FLICKER_STEPS * (looks.step or 0.0)  # a display that flickers beside its end has come there
    away = [bound != settled.bound and not abs(value - edge) <= near for value, bound in seen]
    elsewhere = [float(at) for at, is_away in zip(looks.times_s, away, strict=True) if is_away and at > on_s]
    if not elsewhere:
        wait_s = on_s + hold_s - now_s
        return Stop(wait_s <= 0.0, max(0.0, wait_s), "It may still move." if wait_s > 0.0 else settled.reason, settled)
    wait_s = max(elsewhere) + AT_BOUND_S - now_s
    if away[-1] or wait_s > 0.0:
        return Stop(False, min(AT_BOUND_S, max(wait_s, 1.0)), "It moves, or has only just stopped.", settled)
    return Stop(True, 0.0, settled.reason, settled)
