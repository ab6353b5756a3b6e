"""Checks that are no test points: response time, drift in room air, zero gas, cross-sensitivity."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from flueproof.analyzer.profile import Channel, Profile
from flueproof.bench.judge.measured import Measured
from flueproof.bench.judge.points import GAS_STEP_KINDS
from flueproof.bench.judgement import CheckResult
from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.sensors import FlowStep

LEAST_STEPS = 20  # display steps; smaller ones are not timed; common practice, no source


def is_test_point(one: Measured, channel: Channel) -> bool:
    """Tell whether a reading is a test point: it has a reference, and that is no mere absence of the gas.

    Gas without the component tests the zero and cross-sensitivity of a channel that is zeroed in room air; O2-free
    gas does test O2, whose setting in air says nothing about it.
    Source: own rule (bench record, "what the unit's own zeroing hides").
    """
    if one.kind == "swap-test":  # tells probe from instrument; the limits are for the unit with its own probe
        return False
    if one.reference is None or not channel.low <= one.reference.value <= channel.high:
        return False
    return not one.reference.implied or channel.set_in_air is not None


def _is_a_step(one: Measured, channel: Channel) -> bool:
    """A rise of a few display steps has no response time worth the name."""
    start = channel.set_in_air or 0.0
    return abs(one.settled.value - start) >= LEAST_STEPS * channel.step


def response_checks(measured: Sequence[Measured], profile: Profile) -> list[CheckResult]:
    """Return how long each channel took to 90 % of its step, at the first application that shows it at a feed.

    Extrapolation does not enter: a slow cell stays slow. A hold shorter than the limit tells nothing of a cell that
    had not got there (`ok` None). Source: limit from the profile; OIML R 144-1, 4.6 (pattern).
    """
    results: dict[tuple[str, str, str | None], CheckResult] = {}
    for one in measured:
        channel = profile.channels[one.channel]
        if one.kind not in GAS_STEP_KINDS or channel.response is None or one.settled.t90_s is None:
            continue
        if one.pinched or one.probe == "shop" or math.isnan(one.settled.t90_s) or not _is_a_step(one, channel):
            continue
        key = (one.phase, one.channel, one.feed)
        if key not in results or results[key].ok is None:
            results[key] = _response(one, channel.title, channel.response.t90_s)
    return list(results.values())


def _response(one: Measured, title: str, limit_s: float) -> CheckResult:
    took = one.settled.t90_s
    ok: bool | None = took <= limit_s
    said = f"took {took:.0f} s to 90 %"
    if not math.isfinite(took):
        said = "had not made 90 % of its step when the gas went off"
    text = f"{title} {said} at the {one.feed}; at most {limit_s:g} s."
    if not math.isfinite(took) and one.on_gas_s is not None and one.on_gas_s < limit_s:
        ok = None  # a slow cell and a short hold look alike
        text += f" The gas was on for {one.on_gas_s:.0f} s only: the response time is not shown."
    return CheckResult(one.step, one.phase, "response", one.channel, ok, text, took, "s", limit_s)


def flow_checks(record: Record, phase: str, profile: Profile) -> list[CheckResult]:
    """Return the pump's flow against the profile's range [l/min].

    Source: range from the profile; cells drift with flow: 40 CFR 63 Subpart ZZZZ App. A, 3.8.
    """
    flow = profile.pump_flow_l_min
    results = []
    for step in record.standing_steps():
        if isinstance(step, FlowStep) and step.phase == phase:
            value = step.reference_value.value
            text = f"The pump draws {value:g} l/min; the range is {flow.low:g} to {flow.high:g} l/min."
            ok = flow.low <= value <= flow.high
            results.append(CheckResult(step.id, phase, "flow", None, ok, text, value, "l/min", flow.low))
    return results


def room_air_checks(
    measured: Sequence[Measured], profile: Profile, humid_o2_pct: float | None = None
) -> list[CheckResult]:
    """Return drift since zeroing for channels in room air; it is no test of a channel that is set there.

    humid_o2_pct: O2 that the room's air really held [%], None where the room was not logged.
    Source: own rule (bench record); limit: the channel's own at that value.
    """
    results = []
    for one in measured:
        if one.kind != "ambient-air" or (one.number is None and one.settled.bound != "snapped"):
            continue
        channel = profile.channels[one.channel]
        if not channel.zeroed_in_air or channel.set_to is None:
            continue
        shown = one.number if one.number is not None else channel.set_to
        drift = shown - channel.set_to
        limit = channel.limit_at(min(channel.set_to, channel.high), one.phase).value
        text = (
            f"{channel.title} in room air: {drift:+.4g} {channel.unit} from where the unit set itself. "
            "A drift and humidity check only, no test of this channel."
        )
        if channel.set_in_air is not None and humid_o2_pct is not None:
            text += f" The air held {humid_o2_pct:.2f} % with its moisture; the unit calls it {channel.set_in_air:g}."
        results.append(
            CheckResult(one.step, one.phase, "room-air", one.channel, abs(drift) <= limit, text, drift, one.unit, limit)
        )
    return results


def absent_gas_checks(
    measured: Sequence[Measured], contents: Mapping[str, Mapping[str, float]], profile: Profile
) -> list[CheckResult]:
    """Return what channels show on gas that does not hold their component: zero, or another gas they should not see.

    contents: certified contents of the blend per step. Source: limit from the profile (cross-sensitivity), or the
    channel's limit at zero; 40 CFR 63 Subpart ZZZZ App. A, 13.2 (pattern).
    """
    results = []
    for one in measured:
        channel = profile.channels[one.channel]
        if one.kind not in GAS_STEP_KINDS or one.reference is None or not one.reference.implied:
            continue
        if channel.set_in_air is not None:
            continue
        value = channel.clamp_low if one.settled.bound == "below" else one.number
        if value is None:
            continue
        foreign = {gas: c for gas, c in contents.get(one.step, {}).items() if gas in channel.cross and c > 0}
        if foreign:
            gas, content = max(foreign.items(), key=lambda pair: pair[1])
            share, cross = 100.0 * value / content, channel.cross[gas]
            text = (
                f"{channel.title} shows {value:g} {channel.unit} on {content:g} ppm {gas.upper()}: "
                f"{share:.1f} % of it; at most {cross.limit_pct:g} %."
            )
            results.append(
                CheckResult(
                    one.step,
                    one.phase,
                    "cross-sensitivity",
                    one.channel,
                    share <= cross.limit_pct,
                    text,
                    share,
                    "%",
                    cross.limit_pct,
                    {"gas": gas, "content": content, "by": cross.by},
                )
            )
        else:
            limit = channel.zero_limit(one.phase).value
            text = f"{channel.title} on gas without it: {value:g} {channel.unit}; at most {limit:g} {channel.unit}."
            ok = abs(value) <= limit
            results.append(CheckResult(one.step, one.phase, "zero", one.channel, ok, text, value, one.unit, limit))
    return results
