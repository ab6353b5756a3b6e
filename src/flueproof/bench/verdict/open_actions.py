"""What is left open: points too close to call, points missing or measured with something unfit."""

from __future__ import annotations

from flueproof.analyzer.units import difference_to_core
from flueproof.bench.judge.gathering import component_name
from flueproof.bench.judge.validity import clean_zero_co_ppm
from flueproof.bench.judgement import Action, PointJudgement
from flueproof.bench.verdict.situation import Situation

REFERENCE_SHARE = 0.5  # of the variance: above it a repeat cannot help; common practice, no source
LEAST_PROBABILITY = 0.5  # that a point called conforming conforms; below it no paper says so; own choice
REFERENCE_CODES = {
    "expired-gas",
    "gas-not-yet-certified",
    "reference-overdue",
    "low-cylinder-pressure",
    "wrong-balance-gas",
}


def undecided_actions(now: Situation) -> list[Action]:
    """Return what follows for each counting point that is too close to call.

    A repeat shrinks what differs between applications; where the reference has the larger share only a better one
    helps; where neither can, the owner's rule decides.
    Source: own rule; JCGM 100:2008, 5.2.2 (a repeat on one bottle does not shrink the bottle's share).
    """
    actions: dict[str, Action] = {}
    for point in now.counting:
        if point.outside_alone and point.statement != "not-conform":
            actions.setdefault(point.channel, _for_one_application(point))
        elif point.statement == "undecided" or _is_no_more_than_a_guess(point):
            actions.setdefault(point.channel, _for_point(point))
    return list(actions.values())


def unshown_actions(now: Situation) -> list[Action]:
    """Return what was measured too shortly or on a zero that hides something, and is to be done again.

    Source: own rule; response time is judged by itself (the profile's limit), CO at zeroing by the limit at zero.
    """
    actions: dict[str | None, Action] = {}
    for check in now.checks:
        if check.kind == "response" and check.ok is None:
            why = f"{check.text} Hold the gas for {now.profile.hold_s:g} s."
            actions.setdefault(check.channel, Action("repeat", why, channel=check.channel))
    room_ppm = clean_zero_co_ppm(now.record, now.phase)
    for channel in now.profile.channels.values():
        if room_ppm is None or component_name(channel) != "co" or not channel.zeroed_in_air:
            continue
        zero = difference_to_core(room_ppm, "ppm", channel.unit)
        limit = channel.zero_limit(now.phase).value
        if zero > limit:
            why = (
                f"{channel.title} took its zero in air with {zero:g} {channel.unit} CO, more than the limit at zero "
                f"of {limit:g} {channel.unit}: it reads low by that. Air the room, zero again in clean air, then "
                "repeat the gas."
            )
            actions[channel.name] = Action("repeat", why, channel=channel.name)
    return list(actions.values())


def _for_point(point: PointJudgement) -> Action:
    where = f"{point.channel.upper()} at {point.reference:.4g} {point.unit} is too close to call"
    if point.u > 0 and point.reference_u**2 / point.u**2 > REFERENCE_SHARE:
        why = f"{where}: most of the uncertainty is the reference's, so a repeat on it cannot decide."
        return Action("better-reference", why, channel=point.channel)
    settling = sum(line.u**2 for line in point.budget if line.name == "settling")
    if point.u > 0 and settling / point.u**2 > REFERENCE_SHARE:
        why = f"{where}: the reading had not settled. Repeat it, and hold the gas until it stands."
        return Action("repeat", why, channel=point.channel)
    if point.repeats < 2:
        return Action("repeat", f"{where}: a second application may decide.", channel=point.channel)
    return Action(
        "discuss", f"{where} after {point.repeats} applications: the owner's rule decides.", channel=point.channel
    )


def _is_no_more_than_a_guess(point: PointJudgement) -> bool:
    """Simple acceptance has no guard: where u is as large as the limit it may call conforming what likely is not.

    Source: JCGM 106:2012, 8.2.2 (simple acceptance goes with a limit on the uncertainty); the bound is our own.
    """
    return point.statement == "conform" and point.caveat is None and point.p_conform < LEAST_PROBABILITY


def _for_one_application(point: PointJudgement) -> Action:
    """No single application may lie outside the limit, whatever the mean says (OIML R 144-2, 1.2)."""
    steps = ", ".join(point.outside_alone)
    why = (
        f"{point.channel.upper()} at {point.reference:.4g} {point.unit}: the applications disagree, and {steps} alone "
        "lies outside the limit. Find out why (a leak that moves, gas not purged, water); then strike what was wrong "
        "with its reason, and repeat."
    )
    return Action("repeat", why, channel=point.channel)


def missing_actions(now: Situation) -> list[Action]:
    """Return what must be measured (again) before anything can be signed, references first.

    Source: own rule; the profile's required points.
    """
    actions: list[Action] = []
    codes = [note for note in now.blocking if note.code in REFERENCE_CODES]
    if codes:
        actions.append(Action("better-reference", " ".join(dict.fromkeys(note.text for note in codes))))
    actions.extend(
        Action("repeat", note.text, detail={"step": note.step})
        for note in now.blocking
        if note.code not in REFERENCE_CODES
    )
    for need in now.needs:
        if need.point.required and need.state == "missing":
            do = "check-path" if need.point.kind == "plug-test" else "repeat"
            actions.append(
                Action(
                    do,
                    f"Not measured yet: {need.point.title}.",
                    channel=need.point.channel,
                    detail={"point": need.point.id},
                )
            )
    return actions
