"""What must agree between the parts of one record: ids, references, times, strikes, phases."""

from collections.abc import Mapping, Sequence
from itertools import pairwise

from flueproof.bench.errors import RecordError
from flueproof.bench.record.references import Reference
from flueproof.bench.record.steps.kinds import REFERENCE_KIND_OF_STEP, AnyStep
from flueproof.bench.record.steps.remarks import StrikeStep
from flueproof.bench.record.steps.step import MeasuringStep
from flueproof.bench.record.steps.work import AdjustStep, PartStep
from flueproof.bench.record.values.spelling import nearest_word


def refuse_contradictions(steps: Sequence[AnyStep], references: Mapping[str, Reference]) -> None:
    """Refuse what cannot be true of one visit.

    Raises: RecordError with the path from the record's top.
    Source: the bench record, format 1.
    """
    if not steps:
        raise RecordError("$.steps", "the record has no steps.", "Enter what was done, in its order.")
    _ids_once(steps)
    _references_known(steps, references)
    _strikes_earlier_steps(steps)
    struck = struck_ids(steps)
    standing = [(index, step) for index, step in enumerate(steps) if step.id not in struck]
    _times_in_order(standing)
    _as_found_before_work(standing)


def struck_ids(steps: Sequence[AnyStep]) -> frozenset[str]:
    """Return the ids of the struck steps; a strike that was itself struck strikes nothing.

    Source: common practice, no source.
    """
    struck: set[str] = set()
    for step in reversed(steps):
        if isinstance(step, StrikeStep) and step.id not in struck:
            struck.add(step.strikes)
    return frozenset(struck)


def _ids_once(steps: Sequence[AnyStep]) -> None:
    first: dict[str, int] = {}
    for index, step in enumerate(steps):
        if step.id in first:
            raise RecordError(
                f"$.steps[{index}].id",
                f"the step id {step.id!r} is already that of $.steps[{first[step.id]}].",
                "Give each step an id of its own.",
            )
        first[step.id] = index


def _references_known(steps: Sequence[AnyStep], references: Mapping[str, Reference]) -> None:
    for index, step in enumerate(steps):
        named = getattr(step, "reference", None)
        if named is None:
            continue
        if named not in references:
            raise RecordError(
                f"$.steps[{index}].reference",
                f"there is no reference {named!r} in this record.",
                _nearest(named, references),
            )
        needed = REFERENCE_KIND_OF_STEP.get(step.kind)
        kind = references[named].kind
        if needed is not None and kind != needed:
            raise RecordError(
                f"$.steps[{index}].reference",
                f"a {step.kind} step needs a reference of kind {needed}, but {named!r} is a {kind}.",
                f"Name the {needed} that was used.",
            )


def _nearest(named: str, references: Mapping[str, Reference]) -> str:
    if not references:
        return "Enter it under references, with its certificate."
    close = nearest_word(named, references)
    if close is not None:
        return f"Did you mean {close!r}? Otherwise enter it under references."
    return f"Name one of {', '.join(map(repr, references))}, or enter it under references."


def _strikes_earlier_steps(steps: Sequence[AnyStep]) -> None:
    place = {step.id: index for index, step in enumerate(steps)}
    for index, step in enumerate(steps):
        if not isinstance(step, StrikeStep):
            continue
        if step.strikes not in place:
            raise RecordError(
                f"$.steps[{index}].strikes",
                f"there is no step {step.strikes!r} to strike.",
                "Name the id of an earlier step.",
            )
        if place[step.strikes] >= index:
            raise RecordError(
                f"$.steps[{index}].strikes",
                f"the step {step.strikes!r} does not stand before this strike.",
                "A strike follows what it strikes: move it to the end, or name an earlier step.",
            )


def _times_in_order(standing: Sequence[tuple[int, AnyStep]]) -> None:
    for (_, before), (index, step) in pairwise(standing):
        if step.at < before.at:
            raise RecordError(
                f"$.steps[{index}].at",
                f"the step {step.id!r} at {step.at.isoformat()} follows {before.id!r} at {before.at.isoformat()}, "
                "which is later.",
                "Correct the time, or strike the step whose time is wrong.",
            )


def _as_found_before_work(standing: Sequence[tuple[int, AnyStep]]) -> None:
    work: AnyStep | None = None
    for index, step in standing:
        if isinstance(step, PartStep) or (isinstance(step, AdjustStep) and step.accepted):
            work = work or step
        elif work is not None and isinstance(step, MeasuringStep) and step.phase == "as-found":
            raise RecordError(
                f"$.steps[{index}].phase",
                f"the step {step.id!r} is marked as-found, but it follows {work.id!r} ({work.kind}), "
                "which changed the analyzer.",
                "Mark it as-left, or strike the step that was not done.",
            )
