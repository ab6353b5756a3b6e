"""judgement = f(record, profile, rules version, input bundle): the judge of one bench record."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence

from flueproof.analyzer.profile import Profile
from flueproof.bench.bundle import EMPTY_BUNDLE, Bundle
from flueproof.bench.judge.gas_on_record import common_cause
from flueproof.bench.judge.gathering import gather
from flueproof.bench.judge.path import cells_json, gas_path_json, gas_path_of
from flueproof.bench.judge.phases import JudgedPhase, judge_phase, with_owner_limits
from flueproof.bench.judge.together import joint_statement
from flueproof.bench.judge.validity import Validity, validity_of
from flueproof.bench.judgement import Action, DisplayedFigures, Judgement, Note, PointJudgement, Verdict
from flueproof.bench.oddities import oddities
from flueproof.bench.profile_fit import refuse_misfits
from flueproof.bench.record.record import Record
from flueproof.bench.record.references import TestGas
from flueproof.bench.record.steps.sensors import DisplayedStep
from flueproof.bench.record.steps.step import MeasuringStep
from flueproof.bench.record_notes import record_notes_of, worked_on
from flueproof.bench.verdict.contradiction import without_contradictions
from flueproof.bench.verdict.needs import needs_of, no_probe_came
from flueproof.bench.verdict.outcome import verdict_of
from flueproof.bench.verdict.situation import Need, Situation
from flueproof.bench.verdict.touched import touched_points
from flueproof.metrology.conformity import DecisionRule, decision_rule, rule_in_words

PHASES = ("as-found", "as-left")


@dataclasses.dataclass(frozen=True, slots=True)
class Examination:
    """A judgement with the situation of each phase that it was reached from.

    touched: ids of the points that work on the analyzer calls for again; worked_on: whether there was such work.
    """

    judgement: Judgement
    found: Situation | None
    left: Situation | None
    worked_on: bool
    touched: frozenset[str]


def judge_record(
    record: Record,
    profile: Profile,
    *,
    name: str = "record",
    bundle: Bundle = EMPTY_BUNDLE,
    rule: DecisionRule | None = None,
) -> Judgement:
    """Judge one bench record: points, path, cells, verdict as found and as left.

    name: the record's file name, for the judgement; bundle: frozen further inputs; rule: instead of the order's.
    Raises: RecordError (a channel that the profile lacks), NoLimitError (a reference outside every limit's range).
    Source: rules version 1 (docs, "How a number is computed").
    """
    return examine_record(record, profile, name=name, bundle=bundle, rule=rule).judgement


def examine_record(
    record: Record,
    profile: Profile,
    *,
    name: str = "record",
    bundle: Bundle = EMPTY_BUNDLE,
    rule: DecisionRule | None = None,
) -> Examination:
    """Judge a record as `judge_record` does and keep the situations, for who must propose what comes next.

    Raises: as `judge_record`. Source: rules version 1.
    """
    profile = with_owner_limits(record, profile)
    refuse_misfits(record, profile)
    chosen = rule or decision_rule(record.order.decision_rule, record.order.r)
    validity = validity_of(record, profile)
    measured = [one for one in gather(record, profile, bundle) if not validity.is_void(one.step, one.channel)]
    validity = without_contradictions(validity, measured, profile, bundle)
    no_probe = no_probe_came(record)
    phases = {
        phase: judge_phase(phase, record, profile, measured, validity, chosen, bundle, no_probe=no_probe)
        for phase in PHASES
        if any(isinstance(step, MeasuringStep) and step.phase == phase for step in record.standing_steps())
    }
    found = _verdict_as_found(phases, record, profile, validity, no_probe=no_probe)
    left = _verdict_as_left(phases, record, profile, validity, found, no_probe=no_probe)
    needs = left[1].needs if left else (found[1].needs if found else ())
    standing = left or found
    record_notes = [*record_notes_of(record, profile, phases), *oddities(record, profile)]
    displayed, shown_notes = _displayed(record)
    found, left = _held(found, record_notes), _held(left, record_notes)
    limit = profile.leak_limit_pct / 100.0
    judgement = Judgement(
        record=name,
        job=record.job,
        profile={"name": profile.name, "version": profile.version, "sha256": profile.sha256},
        decision_rule={"name": chosen.name, "r": chosen.r, "text": rule_in_words(chosen)},
        as_found=found[0] if found else None,
        as_left=left[0] if left else None,
        points=tuple(point for phase in phases.values() for point in phase.points),
        checks=tuple(check for phase in phases.values() for check in phase.checks),
        gas_path=_by_phase({name: gas_path_json(one.path, limit) for name, one in phases.items()}),
        cells=_by_phase({name: cells_json(one.path) for name, one in phases.items()}),
        joint={
            name: joint_statement([p for p in one.points if p.counts], _suppliers(record))
            for name, one in phases.items()
        },
        not_tested=_not_tested(needs, no_probe=no_probe),
        notes=(
            *_still_stopping(validity.notes, standing),
            *record_notes,
            *shown_notes,
        ),
        displayed=displayed,
        bundle={**bundle.as_dict(), "sha256": bundle.sha256()},
    )
    return Examination(
        judgement,
        found[1] if found else None,
        left[1] if left else None,
        worked_on(record),
        touched_points(record, profile),
    )


def _displayed(record: Record) -> tuple[tuple[DisplayedFigures, ...], list[Note]]:
    """What figures of the display follow; chemistry is opened only where some were noted."""
    if not any(isinstance(step, DisplayedStep) for step in record.standing_steps()):
        return (), []
    from flueproof.bench.displayed.judging import displayed_figures, displayed_notes  # noqa: PLC0415 -- see above

    figures = displayed_figures(record)
    return figures, displayed_notes(figures)


def _still_stopping(notes: Sequence[Note], standing: tuple[Verdict, Situation] | None) -> list[Note]:
    """A step that is unfit stops the signing no longer once the verdict stands without it: it stays said."""
    if standing is None or not standing[0].signable:
        return list(notes)
    return [dataclasses.replace(note, blocks=False) if note.step is not None else note for note in notes]


def _suppliers(record: Record) -> dict[str, str]:
    return {
        common_cause(reference, key): reference.supplier
        for key, reference in record.references.items()
        if isinstance(reference, TestGas) and reference.supplier is not None
    }


def _by_phase(parts: Mapping[str, Mapping[str, object]]) -> dict[str, object]:
    """Show the first phase at the top, as format 1 has it, and the last one beside it."""
    if not parts:
        return {}
    body: dict[str, object] = dict(parts["as-found"] if "as-found" in parts else parts["as-left"])
    if "as-left" in parts and "as-found" in parts:
        body["as_left"] = parts["as-left"]
    return body


def _situation(
    phase: JudgedPhase,
    record: Record,
    profile: Profile,
    validity: Validity,
    needs: tuple[Need, ...],
    points: tuple[PointJudgement, ...],
    *,
    no_probe: bool,
) -> Situation:
    unfit = {step for need in needs if need.point.required and need.state == "unfit" for step in need.steps}
    blocking = tuple(note for note in validity.notes if note.blocks and note.step in unfit)
    # what was measured with something unfit asks for a repeat, never for a part
    points = tuple(point for point in points if all(validity.fit(step, point.channel) for step in point.steps))
    return Situation(phase.name, record, profile, points, phase.checks, phase.path, needs, no_probe, blocking)


def _needs(
    phase: JudgedPhase, record: Record, profile: Profile, validity: Validity, *, no_probe: bool
) -> tuple[Need, ...]:
    return needs_of(record, profile, phase.name, phase.points, phase.checks, validity, no_probe=no_probe)


def _verdict_as_found(
    phases: Mapping[str, JudgedPhase], record: Record, profile: Profile, validity: Validity, *, no_probe: bool
) -> tuple[Verdict, Situation] | None:
    phase = phases.get("as-found")
    if phase is None:
        return None
    needs = _needs(phase, record, profile, validity, no_probe=no_probe)
    now = _situation(phase, record, profile, validity, needs, phase.points, no_probe=no_probe)
    return verdict_of(now), now


def _verdict_as_left(
    phases: Mapping[str, JudgedPhase],
    record: Record,
    profile: Profile,
    validity: Validity,
    found: tuple[Verdict, Situation] | None,
    *,
    no_probe: bool,
) -> tuple[Verdict, Situation] | None:
    """As left: what the work touched is judged anew, what it did not touch stands as found.

    Work with nothing measured after it has a verdict too: incomplete, so that nothing as found can be signed for it.
    """
    left = phases.get("as-left")
    if left is None and not worked_on(record):
        return None
    if left is None:
        left = JudgedPhase("as-left", (), (), gas_path_of("as-left", (), (), (), profile))
    touched = touched_points(record, profile) if worked_on(record) else frozenset(p.id for p in profile.points)
    anew = _needs(left, record, profile, validity, no_probe=no_probe)
    before = {need.point.id: need for need in found[1].needs} if found else {}
    needs = tuple(
        need if need.point.id in touched or need.state == "done" else before.get(need.point.id, need) for need in anew
    )
    redone = {point.channel for point in left.points}
    kept = tuple(
        point
        for point in (phases["as-found"].points if "as-found" in phases else ())
        if point.channel not in redone and not _is_touched(point, profile, touched)
    )
    path = left.path if left.path.products is not None or left.path.finding.evidence else None
    path_touched = any(point.id in touched for point in profile.points if point.kind == "plug-test")
    if path is None and found is not None and not path_touched:
        left = dataclasses.replace(left, path=found[1].path)
    now = _situation(left, record, profile, validity, needs, (*kept, *left.points), no_probe=no_probe)
    return verdict_of(now), now


def _is_touched(point: PointJudgement, profile: Profile, touched: frozenset[str]) -> bool:
    return any(one.id in touched and one.channel == point.channel for one in profile.points)


def _not_tested(needs: Sequence[Need], *, no_probe: bool) -> tuple[str, ...]:
    lacking = ("Probe assembly and its gas path",) if no_probe else ()
    return lacking + tuple(need.point.title for need in needs if need.state != "done")


def _held(reached: tuple[Verdict, Situation] | None, notes: Sequence[Note]) -> tuple[Verdict, Situation] | None:
    """Hold back a verdict that could be signed while a note on the record as a whole stops the signing."""
    stopping = [note for note in notes if note.blocks]
    if reached is None or not reached[0].signable or not stopping:
        return reached
    actions = tuple(
        Action("ask-owner", note.text) if note.code == "work-not-ordered" else Action("repeat", note.text)
        for note in stopping
    )
    return Verdict("incomplete", actions, reached[0].reasons), reached[1]
