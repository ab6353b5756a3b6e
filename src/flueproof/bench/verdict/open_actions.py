"""What is left open: points too close to call, points missing or measured with something unfit."""

from __future__ import annotations

from flueproof.bench.judgement import Action, PointJudgement
from flueproof.bench.verdict.situation import Situation

REFERENCE_SHARE = 0.5  # of the variance: above it a repeat cannot help; common practice, no source
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
        if point.statement == "undecided":
            actions.setdefault(point.channel, _for_point(point))
    return list(actions.values())


def _for_point(point: PointJudgement) -> Action:
    where = f"{point.channel.upper()} at {point.reference:.4g} {point.unit} is too close to call"
    if point.u > 0 and point.reference_u**2 / point.u**2 > REFERENCE_SHARE:
        why = f"{where}: most of the uncertainty is the reference's, so a repeat on it cannot decide."
        return Action("better-reference", why, channel=point.channel)
    if point.repeats < 2:
        return Action("repeat", f"{where}: a second application may decide.", channel=point.channel)
    return Action(
        "discuss", f"{where} after {point.repeats} applications: the owner's rule decides.", channel=point.channel
    )


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
