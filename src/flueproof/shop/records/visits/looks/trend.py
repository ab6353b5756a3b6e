"""Where each channel is heading while the gas is on, and whether it may be shut off."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from flueproof.analyzer.profile import Channel, Profile
from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.analyzer.units import difference_from_core, from_core
from flueproof.bench.judge.phases import with_owner_limits
from flueproof.bench.record.reader import record_from_json
from flueproof.readings.errors import ReadingsError, ShownError
from flueproof.readings.floor import floored
from flueproof.readings.settled import SettledValue
from flueproof.readings.shown import read_shown, text_as_shown
from flueproof.readings.stopping import K, Stop, may_stop
from flueproof.shop.records.models import Application
from flueproof.shop.records.visits.looks.of_application import ChannelLooks, gas_on_s, looks_of
from flueproof.shop.records.visits.looks.target import Aim, aim_of
from flueproof.shop.records.visits.made_once import made_once
from flueproof.shop.records.visits.projection import record_tree

_LARGE_LIMIT_SHARE = 0.05  # of the reference, where a channel has no limit: settled enough to be written down
_LOOKS_DRAWN = 600


@dataclass(frozen=True, slots=True)
class Trend:
    """One channel so far, in the unit of its display.

    times_s: from gas on [s]; values: nan for a text; shown: the last look; at_s: when [s]; settled: where it heads,
    None before it can be said; enough: gas may be shut off as far as this channel goes; wait_s: about how much longer
    otherwise [s]; why: one sentence.
    """

    channel: str
    title: str
    unit: str
    step: float
    times_s: tuple[float, ...]
    values: tuple[float, ...]
    shown: float | str | None
    at_s: float | None
    aim: Aim | None
    settled: SettledValue | None
    enough: bool
    wait_s: float | None
    why: str
    typed: bool

    @property
    def expanded(self) -> float | None:
        """Return the expanded uncertainty of where it heads, k = 2 [unit of the display]; None where it is a bound."""
        if self.settled is None or not math.isfinite(self.settled.u):
            return None
        return K * self.settled.u


def trends_of(application: Application) -> list[Trend]:
    """Return the trends of a running application's channels, in the order of its plan; computed once for each state."""
    last = application.readings.order_by("-id").values_list("pk", flat=True).first() or 0
    on = application.gas_on_at.timestamp() if application.gas_on_at is not None else "off"
    grown = application.visit.events.order_by("-position").values_list("position", flat=True).first() or 0
    state = f"{last}-{on}-{application.ended}-{grown}"
    return made_once(f"trends-{application.pk}", state, lambda: _trends(application))


def all_enough(trends: list[Trend]) -> bool:
    """Return whether gas may be shut off as far as all channels go, and an agent delivers them all."""
    return bool(trends) and all(one.enough and not one.typed for one in trends)


def _trends(application: Application) -> list[Trend]:
    profile = shipped_profile(application.visit.job.analyzer.profile)
    tree = record_tree(application.visit)
    if tree["steps"]:
        profile = with_owner_limits(record_from_json(tree), profile)
    on_s = gas_on_s(application)
    first = _first_at_feed(application, tree["steps"])
    looks = {one.channel: one for one in looks_of(application)}
    return [
        _trend(application, planned, looks.get(planned["channel"]), profile, on_s, first=first)
        for planned in application.plan["channels"]
        if planned["channel"] in profile.channels
    ]


def _first_at_feed(application: Application, steps: list[dict[str, Any]]) -> bool:
    """Return whether this application shows the response time: the first at its feed in its phase."""
    plan = application.plan
    same = ("kind", "phase", "path")
    return plan["kind"] == "test-gas" and not any(
        all(step.get(name) == plan.get(name) for name in same) for step in steps
    )


def _trend(
    application: Application,
    planned: dict[str, Any],
    looks: ChannelLooks | None,
    profile: Profile,
    on_s: float | None,
    *,
    first: bool,
) -> Trend:
    channel = profile.channels[planned["channel"]]
    unit = looks.unit if looks is not None else planned["unit"]
    step = (looks.step if looks is not None else None) or planned["step"]
    aim = aim_of(application, channel, unit)
    kept = _readable(looks)
    zero_s = on_s if on_s is not None else 0.0
    times = tuple(at - zero_s for at, _ in kept)[-_LOOKS_DRAWN:]
    values = tuple(_number(value) for _, value in kept)[-_LOOKS_DRAWN:]
    stop, why = _stop(kept, channel, aim, unit, step, profile.hold_s, on_s) if kept else (None, "Nothing read yet.")
    typed = looks is None or looks.typed
    enough = stop is not None and stop.stop and on_s is not None
    wait_s = None if stop is None else stop.wait_s
    if stop is not None and enough and first and not _t90_seen(stop.settled, channel, times, profile.hold_s):
        enough, wait_s = False, max(1.0, profile.hold_s - times[-1])
        why = "Settled; the gas stays on until the display has shown 90 % of the step, for the response time."
    return Trend(
        channel.name,
        channel.title,
        unit,
        step,
        times,
        values,
        kept[-1][1] if kept else None,
        times[-1] if times else None,
        aim,
        None if stop is None else floored(stop.settled, _floor(channel, unit)),
        enough,
        wait_s,
        why,
        typed,
    )


def _readable(looks: ChannelLooks | None) -> list[tuple[float, float | str]]:
    """Return the looks in a display's own words; a text that means nothing to us stays in the table only."""
    if looks is None:
        return []
    return [(at, value) for at, value in zip(looks.t_s, looks.shown, strict=True) if _means_something(value)]


def _means_something(value: float | str) -> bool:
    if not isinstance(value, str):
        return True
    try:
        text_as_shown(value)
    except ShownError:
        return False
    return True


def _number(value: float | str) -> float:
    return math.nan if isinstance(value, str) else float(value)


def _stop(
    kept: list[tuple[float, float | str]],
    channel: Channel,
    aim: Aim | None,
    unit: str,
    step: float,
    hold_s: float,
    on_s: float | None,
) -> tuple[Stop | None, str]:
    if on_s is None:
        return None, "The gas is not on yet."
    if kept[-1][0] <= on_s:
        return None, "The gas has just gone on."
    limit = aim.limit if aim is not None and aim.limit else None
    if limit is None:
        limit = max(_LARGE_LIMIT_SHARE * abs(aim.reference) if aim is not None else 0.0, 5.0 * step)
    try:
        looks = read_shown(
            [value for _, value in kept],
            np.array([at for at, _ in kept]),
            step,
            clamp_low=_floor(channel, unit),
            snap_to=None if channel.snap_to is None else float(from_core(channel.snap_to, unit, channel.unit)),
            snap_width=float(difference_from_core(channel.snap_width, unit, channel.unit)),
        )
        stop = may_stop(looks, limit, hold_s, gas_on_s=on_s)
    except (ReadingsError, ValueError) as error:
        return None, str(error)
    moved = any(bound is None for (at, _), bound in zip(kept, looks.bounds, strict=False) if at > on_s)
    if stop.settled.bound in {"below", "snapped"} and not moved and kept[-1][0] - on_s < hold_s:
        return Stop(False, hold_s - (kept[-1][0] - on_s), "It may still move.", stop.settled), "It may still move."
    early = math.isnan(stop.settled.fast_s) and not stop.stop and math.isinf(stop.settled.t90_s)
    return stop, "Too early to show how it settles." if early else stop.why


def _floor(channel: Channel, unit: str) -> float | None:
    """Return the lowest value the display can show [unit of the display], None where there is none."""
    return None if channel.clamp_low is None else float(from_core(channel.clamp_low, unit, channel.unit))


def _t90_seen(settled: SettledValue, channel: Channel, times: tuple[float, ...], hold_s: float) -> bool:
    if channel.response is None or settled.bound is not None or math.isnan(settled.t90_s):
        return True
    return math.isfinite(settled.t90_s) or times[-1] >= hold_s
