"""What temperature, draft and response time call for."""

from __future__ import annotations

from collections.abc import Sequence

from flueproof.bench.judgement import Action, CheckResult, PointJudgement
from flueproof.bench.verdict.situation import Situation

SENSOR_KINDS = {"thermocouple", "air-sensor", "pressure"}


def sensor_actions(now: Situation) -> list[Action]:
    """Return the actions on temperature and draft channels, in the profile's order.

    A thermocouple is told from its meter by the test at the socket. Source: own rule; trade practice, 1.7.
    """
    actions = []
    for channel in now.profile.channels.values():
        if channel.kind not in SENSOR_KINDS:
            continue
        points = [point for point in now.points if point.channel == channel.name]
        failed = [point for point in points if point.statement == "not-conform"]
        if not failed:
            continue
        if channel.kind == "thermocouple":
            actions.append(_thermocouple(channel.name, channel.title, points, failed))
        elif channel.kind == "pressure" and _only_offset(points) and _can(now, channel.name, "zero"):
            why = f"{channel.title} is off by the same amount at every point: zero it with both ports open."
            actions.append(Action("adjust", why, channel=channel.name, enter={"unit": channel.unit, "value": 0.0}))
        else:
            actions.append(Action("mend-sensor", _what(channel.title, failed[0]), channel=channel.name))
    return actions


def _what(title: str, point: PointJudgement) -> str:
    if point.caveat and point.settled != point.settled:
        return f"{title} at {point.reference:.4g} {point.unit}: {point.caveat}"
    return f"{title} shows {point.settled:.4g} {point.unit} at {point.reference:.4g} {point.unit}."


def _thermocouple(name: str, title: str, points: Sequence[PointJudgement], failed: Sequence[PointJudgement]) -> Action:
    socket = [point for point in points if point.of == "socket"]
    bad_socket = [point for point in socket if point.statement == "not-conform"]
    if bad_socket:
        return Action("mend-sensor", _what(f"{title} at the socket", bad_socket[0]), where="instrument", channel=name)
    why = _what(title, failed[0])
    if socket:
        return Action(
            "mend-sensor",
            f"{why} At the socket the unit reads right: the probe's thermocouple.",
            where="probe",
            channel=name,
        )
    return Action("mend-sensor", f"{why} A simulator at the socket tells the probe from the meter.", channel=name)


def _only_offset(points: Sequence[PointJudgement]) -> bool:
    if len(points) < 2:
        return False
    errors = [point.error for point in points]
    spread = max(point.U for point in points)
    return max(errors) - min(errors) <= spread


def _can(now: Situation, channel: str, what: str) -> bool:
    adjust = now.profile.adjust.get(channel)
    return adjust is not None and what in adjust.can


def flow_actions(now: Situation) -> list[Action]:
    """Return upkeep of the path where the pump's flow is out of its range: filter, hose, water, then the pump.

    Source: trade practice (filter and hose before the pump).
    """
    for check in now.checks:
        if check.kind == "flow" and check.ok is False:
            return [
                Action("upkeep", f"{check.text} New filter, free hose, dry trap; then the pump.", where="instrument")
            ]
    return []


def response_actions(now: Situation) -> list[Action]:
    """Return the actions on slow channels: slow at the tip only is the path, slow straight in is cell or flow.

    Source: trade practice (slow through the path and quick direct is the filter or hose).
    """
    slow = [check for check in now.checks if check.kind == "response" and check.ok is False]
    if not slow:
        return []
    direct = {check.channel for check in now.checks if check.kind == "response" and _feed(now, check) == "instrument"}
    slow_direct = {check.channel for check in slow if _feed(now, check) == "instrument"}
    actions = []
    for channel in dict.fromkeys(check.channel for check in slow):
        text = next(check.text for check in slow if check.channel == channel)
        if channel in slow_direct and len(slow_direct) == 1:
            actions.append(Action("replace-cell", f"{text} Slow straight at the instrument too.", channel=channel))
        elif channel in slow_direct:
            return [
                Action(
                    "upkeep",
                    f"{text} All channels are slow at the instrument: flow, filter or water.",
                    where="instrument",
                )
            ]
        elif channel in direct:
            return [Action("upkeep", f"{text} Quick straight at the instrument: filter, hose or trap.", where="probe")]
        else:
            actions.append(Action("upkeep", f"{text} New filter, dry hose; then the same gas again.", channel=channel))
    return actions


def _feed(now: Situation, check: CheckResult) -> str | None:
    for one in now.record.steps:
        if one.id == check.step:
            path = getattr(one, "path", None)
            return path.feed if path is not None else None
    return None
