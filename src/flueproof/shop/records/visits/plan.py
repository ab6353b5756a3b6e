"""The plan of a visit: every point of the procedure in its order, as found then as left, and how each stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from flueproof.analyzer.profile import Point
from flueproof.bench.judge.judge import Examination
from flueproof.bench.judgement import Judgement
from flueproof.bench.verdict.situation import Need
from flueproof.shop.records.visits.judged import Judged
from flueproof.shop.records.visits.rules.phase import AS_FOUND, AS_LEFT
from flueproof.shop.records.visits.rules.skipping import Skip, skips_of

_WORST_FIRST: Final = ("not-conform", "undecided", "conform")


@dataclass(frozen=True, slots=True)
class PlanLine:
    """One point in one phase.

    state: `open`, `conform`, `not-conform`, `undecided`, `unfit` (measured with something that does not count),
    `no-part`, `skipped` or `as-found-stands`; why: what a skip or an unfit measurement says; steps: that measured it.
    """

    point: Point
    phase: str
    state: str
    why: str = ""
    steps: tuple[str, ...] = ()
    skip: Skip | None = None


def plan_of(found: Judged) -> list[PlanLine]:
    """Return the lines of the plan: all points as found, and once the analyzer was worked on all of them as left."""
    lines = _lines(found, AS_FOUND)
    return lines + _lines(found, AS_LEFT) if found.phase == AS_LEFT else lines


def _lines(found: Judged, phase: str) -> list[PlanLine]:
    needs = _needs(found.examination, phase)
    skips = skips_of(found.record)
    lines = []
    for point in found.profile.points:
        need = needs.get(point.id)
        line = _line(point, phase, need, found)
        skip = skips.get((phase, point.id))
        if skip is not None and line.state in {"open", "unfit", "no-part"}:
            line = PlanLine(point, phase, "skipped", skip.why, line.steps, skip)
        lines.append(line)
    return lines


def _needs(seen: Examination | None, phase: str) -> dict[str, Need]:
    situation = (seen.left if phase == AS_LEFT else seen.found) if seen is not None else None
    return {need.point.id: need for need in situation.needs} if situation is not None else {}


def _line(point: Point, phase: str, need: Need | None, found: Judged) -> PlanLine:
    judgement = found.judgement
    if need is None or judgement is None or need.state == "missing":
        return PlanLine(point, phase, "open")
    if need.state == "no-part":
        return PlanLine(point, phase, "no-part", "The part did not come.")
    if need.state == "unfit":
        return PlanLine(point, phase, "unfit", _why_unfit(need, judgement), need.steps)
    statement, own = _statement(need, phase, judgement)
    if phase == AS_LEFT and not own:
        return PlanLine(point, phase, "as-found-stands", steps=need.steps)
    return PlanLine(point, phase, statement, steps=need.steps)


def _statement(need: Need, phase: str, judgement: Judgement) -> tuple[str, bool]:
    """Return the worst statement of what measured a point, and whether it was measured in this phase."""
    steps = set(need.steps)
    said = [(p.statement, p.phase) for p in judgement.points if p.channel == need.point.channel and steps & {p.step}]
    if need.point.kind == "cross" or not said:
        said = [(_of_check(c.ok), c.phase) for c in judgement.checks if c.step in steps and _speaks(c.kind, need)]
    if not said:
        return "conform", True
    worst = min((one for one, _ in said), key=_WORST_FIRST.index)
    return worst, any(when == phase for _, when in said)


def _speaks(kind: str, need: Need) -> bool:
    return kind == "cross-sensitivity" if need.point.kind == "cross" else kind in {need.point.kind, *need.point.any_of}


def _of_check(ok: bool | None) -> str:  # noqa: FBT001 -- a check's own three answers
    return {True: "conform", False: "not-conform", None: "undecided"}[ok]


def _why_unfit(need: Need, judgement: Judgement) -> str:
    said = [note.text for note in judgement.notes if note.step in need.steps and note.text]
    return " ".join(dict.fromkeys(said))
