"""Where room air gets into the sample: dilution by feed point, plugged pump, vacuum that does not hold."""

from __future__ import annotations

import math

from flueproof.simulate.errors import StepError
from flueproof.simulate.truth import FEEDS, Truth

LARGEST_SHARE = 0.95
"""A leak never takes more than this share of the flow [-] (own model)."""
WORKING_DEPRESSION_KPA = 2.0
"""Depression in the path at working flow [kPa] (from memory)."""
STALL_BELOW = 0.01
"""A plugged pump stops audibly when less than this share of its flow leaks [-] (common practice, no source)."""
RUNS_ON_ABOVE = 0.05
"""Above this share a plugged pump runs on as if nothing were plugged [-] (common practice, no source)."""
HISS_BELOW = 0.03
"""Below this share a vacuum is still there ten seconds after the pump stopped [-] (common practice, no source)."""


def dilution_at(truth: Truth, feed: str, *, pinched: bool = False, probe: str | None = "owner") -> float:
    """Return the share of room air in what reaches the cells [-].

    Leaks in series multiply their sample shares: 1 - (1 - f_probe)(1 - f_instrument). A leak counts when it sits
    downstream of the feed; pinching the inlet deepens the depression behind it, so that its share grows, while a
    residual current stays what it is.
    feed: one of FEEDS; probe: "owner" or "shop" (the shop's own path is tight).
    Raises: StepError for an unknown feed.
    Source: bench-record.md, "What the unit's own zeroing hides"; the growth law own, laminar leak.
    """
    if feed not in FEEDS:
        raise StepError(f"feed {feed!r} is unknown; the gas can go in at {', '.join(FEEDS)}")
    sees_probe_leak = probe != "shop" and FEEDS.index(feed) <= FEEDS.index(truth.probe_leak_at)
    growth = truth.pinch_growth if pinched else 1.0
    kept = 1.0
    for share in (truth.dilution_probe if sees_probe_leak else 0.0, truth.dilution_instrument):
        kept *= 1.0 - min(share * growth, LARGEST_SHARE)
    return 1.0 - kept


def vent_dilution(supply_l_min: float, pump_flow_l_min: float, *, vent_open: bool) -> float:
    """Return the share of room air drawn in through the open vent when the supply is below the pump's flow [-].

    supply_l_min, pump_flow_l_min: flows [L/min].
    Source: trade practice of feeding through an open tee; own balance of flows.
    """
    if not vent_open or supply_l_min >= pump_flow_l_min:
        return 0.0
    return 1.0 - supply_l_min / pump_flow_l_min


def plugged_pump(truth: Truth, feed: str, *, probe: str | None = "owner") -> tuple[str, bool]:
    """Return what the pump does with the feed plugged (`stalls`, `slows`, `runs-on`) and whether it hisses after 10 s.

    Gross leaks only: a leak below about one per cent of the flow cannot be heard.
    Source: common practice, no source.
    """
    share = dilution_at(truth, feed, probe=probe)
    if not truth.pump_stalls:
        return "runs-on", share < HISS_BELOW
    pump = "stalls" if share < STALL_BELOW else "slows" if share < RUNS_ON_ABOVE else "runs-on"
    return pump, share < HISS_BELOW


def vacuum_after(start_kpa: float, time_s: float, share: float, flow_l_min: float, volume_ml: float) -> float:
    """Return the vacuum that is left in a closed path [kPa below the room].

    A laminar leak passes f Q at the working depression p_w and in proportion to the depression p otherwise, so
    V dp/dt = -f Q (p / p_w) p_atm, an exponential with tau = V p_w / (f Q p_atm).
    start_kpa: vacuum at the start [kPa]; time_s [s]; share: leak, share of the flow f [-]; flow_l_min: pump flow Q
    [L/min]; volume_ml: closed volume V [mL].
    Source: own derivation, ideal gas at constant temperature.
    """
    if share <= 0:
        return start_kpa
    flow_ml_s = flow_l_min * 1000.0 / 60.0
    tau_s = volume_ml * WORKING_DEPRESSION_KPA / (share * flow_ml_s * 101.325)
    return start_kpa * math.exp(-time_s / tau_s)
