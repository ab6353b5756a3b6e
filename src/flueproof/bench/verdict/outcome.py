"""The table of outcomes: the first row that fits names the outcome.

| row | when | outcome |
|---|---|---|
| nothing | no measuring step in the phase | no verdict |
| outside | order `verify`, nothing missing, a point, the path or a check is outside | outside-as-ordered |
| work | a leak, a part or a setting to be put right | work-needed |
| no access | work on a channel that this shop cannot adjust, and nothing else | beyond-our-access |
| worn out | both cells and the instrument's own path are gone | not-worth-repair |
| unfit | a required point was not measured, or only with something unfit | incomplete |
| open | a counting point is too close to call, or the path cannot be told | work-needed |
| no part | all the rest conforms, but a part did not come | limited |
| clean | every required point conforms and the path is tight | ready-to-sign |
"""

from __future__ import annotations

from flueproof.bench.judgement import Action, Verdict
from flueproof.bench.verdict.gas_actions import gas_actions
from flueproof.bench.verdict.open_actions import missing_actions, undecided_actions, unshown_actions
from flueproof.bench.verdict.path_actions import path_actions
from flueproof.bench.verdict.sensor_actions import flow_actions, response_actions, sensor_actions
from flueproof.bench.verdict.situation import Situation

LEAKS = {"probe", "instrument", "unlocated"}
DECIDING_CHECKS = {"response", "cross-sensitivity", "flow"}


def verdict_of(now: Situation) -> Verdict:
    """Return outcome and ordered actions of one phase.

    Order of actions: path, then cells and filters, sensors, response, then what is open, then what is missing.
    Source: own table (head of this module; docs, "How a verdict is reached").
    """
    work = [*path_actions(now), *gas_actions(now), *sensor_actions(now), *response_actions(now), *flow_actions(now)]
    separate = [action for action in work if action.do == "separate"]
    mending = [action for action in work if action.do != "separate"]
    named = {action.channel for action in mending}
    open_points = [
        *undecided_actions(now),
        *(action for action in unshown_actions(now) if action.channel not in named),
    ]
    missing = missing_actions(now)
    failed = [point for point in now.counting if point.statement == "not-conform"]
    reasons = _reasons(now)
    if now.record.order.service == "verify":
        return _verified(now, mending, separate, open_points, missing, bool(failed), reasons)
    unlocated = now.path.finding.leak == "unlocated"
    actions = _ordered([*separate, *mending] if unlocated else [*mending, *separate], now)
    if mending or failed:
        return _work(now, mending, [*actions, *_unexplained(now, mending, separate), *open_points], missing, reasons)
    if missing:
        return Verdict("incomplete", tuple(_once([*missing, *separate, *open_points])), reasons)
    if separate or open_points:
        return Verdict("work-needed", (*separate, *open_points), reasons)
    return _clean(now, reasons)


def _verified(
    now: Situation,
    mending: list[Action],
    separate: list[Action],
    open_points: list[Action],
    missing: list[Action],
    failed: bool,  # noqa: FBT001  (private)
    reasons: tuple[str, ...],
) -> Verdict:
    if missing:
        return Verdict("incomplete", tuple(_once([*missing, *open_points])), reasons)
    again = [action for action in mending if action.do == "repeat"]  # a verification touches nothing
    if failed or now.path.finding.leak in LEAKS or _check_outside(now, mending) or _inlet_outside(now, mending):
        return Verdict("outside-as-ordered", (), reasons, signable=True)
    if again or separate or open_points:
        return Verdict("work-needed", tuple(_once([*again, *separate, *open_points])), reasons)
    return _clean(now, reasons)


def _inlet_outside(now: Situation, mending: list[Action]) -> bool:
    """Tell whether a gas that only the inlet saw is outside; one that the whole path saw too is judged by that."""
    asked = {action.channel for action in mending if action.do != "repeat"}
    seen = {(point.channel, point.reference_id) for point in now.counting}
    return any(
        point.statement == "not-conform" and point.channel in asked and (point.channel, point.reference_id) not in seen
        for point in now.points
        if point.feed == "instrument" and point.probe != "shop"
    )


def _check_outside(now: Situation, mending: list[Action]) -> bool:
    """Tell whether a check that is no test point is outside: response, filter, a cell that air cannot set."""
    failing = [check for check in now.checks if check.ok is False]
    spent = {action.channel for action in mending if action.do == "replace-cell"}
    return any(
        check.kind in DECIDING_CHECKS or (check.kind in {"room-air", "zero"} and check.channel in spent)
        for check in failing
    )


def _work(
    now: Situation, mending: list[Action], actions: list[Action], missing: list[Action], reasons: tuple[str, ...]
) -> Verdict:
    spent = [action for action in mending if action.do == "replace-cell"]
    if len(spent) >= 2 and now.path.finding.instrument.state == "leak":
        why = "Cells and the instrument's own gas path are gone: ask the owner before any part is ordered."
        return Verdict("not-worth-repair", (Action("ask-owner", why), *actions), reasons)
    if mending and all((action.detail or {}).get("access") == "none" for action in mending):
        return Verdict("beyond-our-access", tuple(actions), reasons)
    first = []
    if now.record.order.service == "call-first" and now.phase == "as-found":
        first = [Action("ask-owner", "The order says to call before any work.")]
    return Verdict("work-needed", tuple(_once([*first, *actions, *_still_missing(missing)])), reasons)


def _unexplained(now: Situation, mending: list[Action], separate: list[Action]) -> list[Action]:
    """A point that fails and that no action explains is measured again before anything is touched."""
    named = {action.channel for action in mending}
    path_work = any(action.do == "mend-path" for action in mending) or bool(separate)
    out = []
    for point in now.counting:
        channel = now.profile.channels[point.channel]
        gas = channel.measures_gas
        if point.statement == "not-conform" and point.channel not in named and not (gas and path_work):
            why = f"{channel.title} is outside its limit at {point.reference:.4g} {point.unit}; the cause is not shown."
            out.append(Action("repeat", why + " Feed it straight at the instrument.", channel=point.channel))
            named = named | {point.channel}
    return out


def _still_missing(missing: list[Action]) -> list[Action]:
    """Beside work to be done, only what is unfit as found is worth saying; as left measures the rest anyway."""
    return [action for action in missing if action.do == "better-reference"]


def _ordered(actions: list[Action], now: Situation) -> list[Action]:
    """Keep the order given, but bar every adjustment of a gas channel while the path is not shown tight."""
    finding = now.path.finding
    if finding.leak == "none" or (finding.leak == "probe" and finding.instrument.state in {"tight", "zero", "close"}):
        return actions
    gas = {name for name, channel in now.profile.channels.items() if channel.measures_gas}
    return [action for action in actions if not (action.do == "adjust" and action.channel in gas)]


def _clean(now: Situation, reasons: tuple[str, ...]) -> Verdict:
    lacking = [need for need in now.needs if need.point.required and need.state == "no-part"]
    if now.no_probe or lacking:
        return Verdict("limited", (), reasons, signable=True)
    return Verdict("ready-to-sign", (), reasons, signable=True)


def _reasons(now: Situation) -> tuple[str, ...]:
    reasons = []
    finding = now.path.finding
    if now.path.products is not None:
        reasons.append(f"Gas path: {finding.leak}. {finding.whole.why or finding.instrument.why}".strip())
    reasons.extend(
        f"{point.channel} at {point.reference:.4g} {point.unit}: error {point.error:+.3g} with U {point.U:.2g}, limit "
        f"{point.limit:.3g}: {point.statement}."
        for point in now.counting
        if point.statement != "conform"
    )
    reasons.extend(check.text for check in now.checks if check.ok is False and check.kind in DECIDING_CHECKS)
    return tuple(reasons)


def _once(actions: list[Action]) -> list[Action]:
    seen: set[tuple[str, str | None, str | None, str]] = set()
    kept = []
    for action in actions:
        key = (action.do, action.where, action.channel, action.why)
        if key not in seen:
            seen.add(key)
            kept.append(action)
    return kept
