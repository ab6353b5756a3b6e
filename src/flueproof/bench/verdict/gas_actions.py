"""What the gas channels call for once the path is understood: adjust, replace a cell, replace a filter, zero again."""

from __future__ import annotations

from dataclasses import dataclass

from flueproof.analyzer.gas_path.dilution import USABLE
from flueproof.analyzer.profile import Adjust, Channel
from flueproof.bench.judge.gathering import component_name
from flueproof.bench.judge.path import CellState
from flueproof.bench.judgement import Action, CheckResult, PointJudgement
from flueproof.bench.record.steps.surroundings import ZeroingStep
from flueproof.bench.verdict.situation import Situation

DEAD_GAIN = 0.2  # below this share of its gas a cell is taken as dead; common practice, no source


@dataclass(frozen=True, slots=True)
class ChannelView:
    """A gas channel's points with the dilution of the probe left out where that can be done."""

    channel: Channel
    points: tuple[PointJudgement, ...]
    cell: CellState | None


def channel_views(now: Situation) -> list[ChannelView]:
    """Return the gas channels with the points that speak of cell and electronics: straight at the instrument if fed.

    Source: own rule; the owner's own path first, then straight at the inlet (trade practice, 1.0).
    """
    views = []
    for channel in now.profile.channels.values():
        if not channel.measures_gas:
            continue
        own = [point for point in now.points if point.channel == channel.name and point.probe != "shop"]
        own = [point for point in own if not (point.feed or "").endswith("-pinched")]
        direct = tuple(point for point in own if point.feed == "instrument")
        if direct or own:
            views.append(ChannelView(channel, direct or tuple(own), now.path.cells.get(channel.name)))
    return views


def _may_judge_cell(now: Situation, view: ChannelView) -> bool:
    """A cell is judged only behind a path shown tight, or straight at an instrument shown tight."""
    finding = now.path.finding
    if view.points[0].feed == "instrument":
        # "close" will do where mending the probe asks for a check of the path anyway
        return finding.instrument.state in (
            {"tight", "zero", "close"} if finding.leak == "probe" else {"tight", "zero"}
        )
    return finding.leak == "none"


def gas_actions(now: Situation) -> list[Action]:
    """Return the actions on cells and their settings, in order; never an adjustment while air may come in.

    Source: own rule (bench record, verdict); gains and ranges from the profile.
    """
    actions: list[Action] = []
    for view in channel_views(now):
        failed = [point for point in view.points if point.statement == "not-conform"]
        spent = _air_not_reached(now, view.channel)
        if spent is not None:
            actions.append(spent)
        elif failed and _is_dead(now, view):
            actions.append(
                Action("replace-cell", f"{view.channel.title} hardly answers its gas.", channel=view.channel.name)
            )
        elif failed and _may_judge_cell(now, view):
            actions.extend(_for_failed(now, view, failed))
    actions.extend(_zeros_off(now, {action.channel for action in actions}))
    actions.extend(_filters(now))
    return actions


def _zeros_off(now: Situation, named: set[str | None]) -> list[Action]:
    """A channel that shows something on gas without its component: zero again, and what stays is the cell's.

    The last look at each channel's zero counts; it is the cell once a zeroing between two looks did not help.
    """
    zeroings = [step.at for step in now.record.standing_steps() if isinstance(step, ZeroingStep)]
    times = {step.id: step.at for step in now.record.steps}
    looks: dict[str | None, list[CheckResult]] = {}
    for check in now.checks:
        if check.kind == "zero" and check.channel not in named:
            looks.setdefault(check.channel, []).append(check)
    actions = []
    for channel, checks in looks.items():
        failed = [check for check in checks if check.ok is False]
        if checks[-1].ok is not False:
            continue
        first, last = times[failed[0].step], times[failed[-1].step]
        if any(first < zeroed <= last for zeroed in zeroings):
            why = f"{checks[-1].text} Zeroing again in between did not help: the cell."
            actions.append(Action("replace-cell", why, channel=channel))
        else:
            why = f"{checks[-1].text} Purge, zero again in clean air, then repeat this gas."
            actions.append(Action("repeat", why, channel=channel))
    return actions


def _air_not_reached(now: Situation, channel: Channel) -> Action | None:
    """A cell that cannot be set in air is spent: an O2 of less than its own setting right after zeroing."""
    if channel.set_in_air is None:
        return None
    for check in now.checks:
        if check.kind == "room-air" and check.channel == channel.name and not check.ok and (check.value or 0.0) < 0:
            why = f"{check.text} A cell that cannot be brought to {channel.set_in_air:g} in air is spent."
            return Action("replace-cell", why, channel=channel.name)
    return None


def _is_dead(now: Situation, view: ChannelView) -> bool:
    """A cell is dead that hardly answers gas which did get in: with O2 at its own in air, none did."""
    products, feed = now.path.products, view.points[0].feed or ""
    if products is not None and products.has("o2", feed) and products.value("o2", feed) < USABLE:
        return False
    return view.channel.set_in_air is None and view.cell is not None and view.cell.gain_high < DEAD_GAIN


def _for_failed(now: Situation, view: ChannelView, failed: list[PointJudgement]) -> list[Action]:
    if view.channel.set_in_air is not None:
        return _for_set_in_air(now, view, failed)
    cell = view.cell
    if cell is None or cell.gain is None or cell.gain_u is None:
        return []
    if _zero_explains(view, cell):
        return [
            Action(
                "repeat",
                f"{view.channel.title} is off by the same {cell.zero:+.0f} {view.channel.unit} at every "
                "content: a zero taken in air that held some. Zero again in clean air, then repeat the gas.",
                channel=view.channel.name,
                detail={"zero_again": True},
            )
        ]
    bent = _not_straight(now, view.channel)
    return [bent] if bent is not None else [_adjust_or_replace(now, view, cell.gain, cell.gain_u)]


def _not_straight(now: Situation, channel: Channel) -> Action | None:
    """Zero and span are two settings of a straight line: they cannot mend a channel that is not straight."""
    for check in now.checks:
        if check.kind == "linearity" and check.channel == channel.name and check.ok is False:
            why = f"{check.text} An adjustment cannot make it straight."
            return Action("replace-cell", why, channel=channel.name)
    return None


def _zero_explains(view: ChannelView, cell: CellState) -> bool:
    """Constant in ppm, not proportional: the gain alone is right within what the points could show."""
    if cell.zero is None or cell.zero_u is None or cell.gain is None or abs(cell.zero) < 3.0 * cell.zero_u:
        return False
    without = [(cell.gain - 1.0) * point.reference for point in view.points]
    return all(abs(error) <= point.limit for error, point in zip(without, view.points, strict=True))


def _adjust_or_replace(now: Situation, view: ChannelView, gain: float, gain_u: float) -> Action:
    name = view.channel.name
    adjust, cell = now.profile.adjust.get(name), now.profile.cells.get(component_name(view.channel))
    needed = 1.0 / max(gain, 1e-9)
    if cell is not None and gain < cell.end_gain:
        why = (
            f"{view.channel.title} answers with {100 * gain:.0f} % of its gas; "
            f"a cell is spent at {100 * cell.end_gain:.0f} %."
        )
        return Action("replace-cell", why, channel=name)
    if adjust is None or "span" not in adjust.can:
        why = (
            f"{view.channel.title} reads {100 * gain:.1f} % of its gas and must be adjusted, "
            "which this shop cannot do on it."
        )
        return Action("discuss", why, channel=name, detail={"access": "none"})
    if not adjust.gain_low <= needed <= adjust.gain_high:
        why = (
            f"{view.channel.title} would need a factor of {needed:.2f}; "
            f"the display takes {adjust.gain_low:g} to {adjust.gain_high:g}."
        )
        return Action("replace-cell", why, channel=name)
    return _adjust(now, view, adjust, gain, gain_u)


def _life(now: Situation, channel: Channel, gain: float, adjust: Adjust) -> str:
    """Whether the cell still has life, in words: its age, the usual life, and what the display can still take."""
    gas = component_name(channel)
    cell = now.profile.cells.get(gas)
    words = [f"after this the display can still take a loss to {100.0 / adjust.gain_high:.0f} % of this gain"]
    fitted = next((one.fitted_day for one in now.record.analyzer.cells if one.gas == gas), None)
    if fitted is not None and now.record.steps:
        years = (now.record.steps[-1].at.date() - fitted).days / 365.25
        words.insert(0, f"cell fitted {fitted.isoformat()}, {years:.1f} years ago")
    if cell is not None:
        words.insert(1, f"usual life {cell.life}")
        if gain < 1.15 * cell.end_gain:
            words.append("close to its end: say so to the owner")
    return "; ".join(words)


def _adjust(now: Situation, view: ChannelView, adjust: Adjust, gain: float, gain_u: float) -> Action:
    best = min(view.points, key=lambda point: point.reference_u / max(point.reference, 1e-9))
    unit = view.channel.unit
    value = _as_entered(best.reference, view.channel.step)
    enter = {"unit": unit, "value": value}
    text = (
        f"{view.channel.title} reads {100 * gain:.1f} % of its gas. With {best.reference_id} settled "
        f"at the instrument, enter {value:g} {unit}."
    )
    detail = {
        "gain": gain,
        "gain_u": gain_u,
        "factor": 1.0 / gain,
        "gas": best.reference_id,
        "predicted_as_left": {"error": value - best.reference, "u": best.u, "unit": unit},
        "how": adjust.how,
        "code_needed": adjust.code_needed,
        "life": _life(now, view.channel, gain, adjust),
    }
    return Action("adjust", text, channel=view.channel.name, enter=enter, detail=detail)


def _as_entered(value: float, step: float) -> float:
    return round(round(value / step) * step, 6)


def _for_set_in_air(now: Situation, view: ChannelView, failed: list[PointJudgement]) -> list[Action]:
    """O2: a zero error (residual current) shows on O2-free gas; one that air and zero do not explain is the cell."""
    name, adjust = view.channel.name, now.profile.adjust.get(view.channel.name)
    at_zero = [point for point in failed if point.reference < 1.0]
    if at_zero and adjust is not None and "zero" in adjust.can and len(at_zero) == len(failed):
        point = at_zero[0]
        why = f"O2 shows {point.settled:.2g} % on gas with {point.reference:.2g} %, the path is tight: its zero is off."
        return [
            Action(
                "adjust",
                why,
                channel=name,
                enter={"unit": "%", "value": round(point.reference, 2)},
                detail={"zero": True, "how": adjust.how},
            )
        ]
    point = failed[0]
    why = (
        f"O2 shows {point.settled:.3g} % on gas with {point.reference:.3g} % while air is set right and the "
        "path is tight: a residual current or a cell that saturates. Setting it in air again is no repair."
    )
    return [Action("replace-cell", why, channel=name)]


def _filters(now: Situation) -> list[Action]:
    spent = [check for check in now.checks if check.kind == "cross-sensitivity" and check.ok is False]
    clearest: dict[str | None, CheckResult] = {}
    for check in sorted(spent, key=lambda check: check.value or 0.0):
        clearest[check.channel] = check
    return [_for_cross(check) for check in clearest.values()]


def _for_cross(check: CheckResult) -> Action:
    by = str((check.detail or {}).get("by", "filter"))
    if "filter" in by:
        return Action("replace-filter", f"{check.text} Its filter is spent.", channel=check.channel)
    return Action("replace-cell", f"{check.text} What keeps that gas away: {by}.", channel=check.channel)
