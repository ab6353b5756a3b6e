"""Recording one step from the bench page: its phase, its reference, what else follows from it; all or nothing."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from django.db import transaction
from django.utils import timezone

from flueproof.bench.errors import RecordError
from flueproof.shop.records.gas.admitting import refusal_of
from flueproof.shop.records.models import Application, BenchEvent, PartLot, Person, Reference, Visit
from flueproof.shop.records.stock.at_the_bench import take_for_step
from flueproof.shop.records.visits.acts.cells_fitted import keep_fitted_cell
from flueproof.shop.records.visits.events import Sender, add_reference, add_step
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.rules.arrival import refuse_too_early

MEASURING: Final = frozenset(
    {
        "test-gas",
        "ambient-air",
        "plug-test",
        "bulb-test",
        "vacuum-hold",
        "swap-test",
        "temperature",
        "pressure",
        "flow",
        "displayed",
    }
)
_ON_THE_BENCH: Final = frozenset({"bench", "held", "parts"})


def record_step(
    visit: Visit,
    step: dict[str, Any],
    by: Person,
    now: datetime,
    sender: Sender,
    reference: Reference | None = None,
    lot: PartLot | None = None,
) -> BenchEvent:
    """Append one step that a person entered and return its event; a repeat from the same sender returns the first.

    The phase of a measurement is decided here. reference: what it was compared with, taken into the record first;
    lot: of the parts store, which then holds one piece less.
    Raises: RecordError (what is wrong, where, what to do), SentDifferentlyError; nothing is written then.
    """
    first = BenchEvent.objects.filter(source=sender.source, source_sequence=sender.sequence).exists()
    if first:
        return add_step(visit, step, by, now, sender)
    found = judged(visit)
    _refuse_now(visit, step)
    refuse_too_early(found.record, step)
    whole = dict(step)
    if step["kind"] in MEASURING:
        whole["phase"] = found.phase
    with transaction.atomic():
        if reference is not None:
            _refuse_reference(reference, whole, visit, now)
            add_reference(visit, reference, by, now)
            whole["reference"] = reference.code
        event = add_step(visit, whole, by, now, sender)
        if whole["kind"] == "part":
            if lot is not None:
                take_for_step(visit, lot, whole, event, by, now)
            keep_fitted_cell(visit.job.analyzer, whole, found.profile, timezone.localtime(now).date(), lot)
    return event


def _refuse_now(visit: Visit, step: dict[str, Any]) -> None:
    """Refuse what has no place now: a job that is not on the bench, or any other step while gas is on.

    Raises: RecordError.
    """
    if visit.job.state not in _ON_THE_BENCH:
        raise RecordError(
            "$.job",
            f"the job is {visit.job.get_state_display()!r}, not on the bench.",
            "Scan the analyzer at the bench's first page, which brings the job back here.",
        )
    if Application.objects.filter(visit=visit, ended_at=None).exists():
        raise RecordError(
            "$.kind",
            f"a measurement is running, and a {step['kind']} step would fall into it.",
            "Finish it or drop it, then record this.",
        )


def _refuse_reference(reference: Reference, step: dict[str, Any], visit: Visit, now: datetime) -> None:
    day = timezone.localtime(now).date()
    why = refusal_of(reference, point=None, profile=judged(visit).profile, day=day, channel=step.get("channel"))
    if why:
        raise RecordError("$.reference", why, "")
