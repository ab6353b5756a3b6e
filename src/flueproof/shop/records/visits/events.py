"""Adding to a visit's record: validated, chained, committed before anyone is told, and never twice."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from flueproof.bench.record.reader import record_from_json
from flueproof.bench.record.record import Record
from flueproof.shop.records.models import BenchEvent, Person, Reference, Visit
from flueproof.shop.records.visits.chain import canonical_json, event_hash
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.projection import HEAD, PROBE_STEP, REFERENCE, STEP, tree_of
from flueproof.shop.records.visits.rules.as_found_first import refuse_before_as_found
from flueproof.shop.records.visits.rules.call_first import BARRED, refuse_before_decision
from flueproof.shop.records.visits.rules.phase import refuse_late_as_found


@dataclass(frozen=True, slots=True)
class Sender:
    """Who sends an event: a page's or agent's own id and its running number there."""

    source: str
    sequence: int


class SentDifferentlyError(ValueError):
    """The same sender used one number for two different things; nothing was written."""


def add_step(visit: Visit, step: dict[str, Any], by: Person, now: datetime, sender: Sender | None = None) -> BenchEvent:
    """Append one step (bench-record format 1; `id`, `at`, `by` are filled in when missing) and return its event.

    The record with the step is validated as a whole first. A repeat from the same sender returns the first event.
    Raises: RecordError (what is wrong and where; nothing is written), SentDifferentlyError.
    """
    return append(visit, STEP, step, by, now, sender)


def add_reference(visit: Visit, reference: Reference, by: Person, now: datetime) -> None:
    """Take a reference into the record under its scan code, once; a changed content is taken in anew."""
    with transaction.atomic():
        locked = Visit.objects.select_for_update().get(pk=visit.pk)
        tree = tree_of(list(locked.events.order_by("position").values_list("kind", "body")))
        if tree["references"].get(reference.code) != reference.as_in_record():
            append(locked, REFERENCE, {"id": reference.code, "content": reference.as_in_record()}, by, now)


def append(
    visit: Visit, kind: str, content: dict[str, Any], by: Person, now: datetime, sender: Sender | None = None
) -> BenchEvent:
    """Append one event of any kind inside one transaction; see `add_step`."""
    with transaction.atomic():
        locked = Visit.objects.select_for_update().get(pk=visit.pk)
        if sender is not None and (first := _already(locked, sender, kind, content)) is not None:
            return first
        rows = list(locked.events.order_by("position").values_list("kind", "body", "hash"))
        body = _filled(content, rows, by, now) if kind == STEP else content
        text = canonical_json(body)
        record = _read_with([(row[0], row[1]) for row in rows] + [(kind, text)])
        if kind == STEP and record is not None:
            _refuse_out_of_order(locked, record, body)
        event = BenchEvent(
            visit=locked,
            position=len(rows) + 1,
            kind=kind,
            body=text,
            at=now,
            by=by,
            source=sender.source if sender else None,
            source_sequence=sender.sequence if sender else None,
            previous_hash=rows[-1][2] if rows else "",
        )
        event.hash = event_hash(event)
        event.save(force_insert=True)
    return event


def _already(visit: Visit, sender: Sender, kind: str, content: dict[str, Any]) -> BenchEvent | None:
    first = BenchEvent.objects.filter(source=sender.source, source_sequence=sender.sequence).first()
    if first is None:
        return None
    stored = json.loads(first.body)
    same = all(stored.get(key) == value for key, value in json.loads(canonical_json(content)).items())
    if first.visit_id != visit.pk or first.kind != kind or not same:
        raise SentDifferentlyError(
            f"number {sender.sequence} of {sender.source} was used before for something else; load the page anew"
        )
    return first


def _filled(content: dict[str, Any], rows: list[tuple[str, str, str]], by: Person, now: datetime) -> dict[str, Any]:
    """Name and date a step; its time is written in the shop's zone, so that its date is the day at the bench."""
    steps = sum(row[0] == STEP for row in rows)
    moment = timezone.localtime(now).isoformat(timespec="seconds")
    return {"id": f"s{steps + 1}", "at": moment, "by": by.name_on_papers, **content}


def _read_with(rows: list[tuple[str, str]]) -> Record | None:
    """Read the record that would result; before the first step only whole heads are there to check."""
    tree = tree_of(rows)
    if tree["steps"]:
        return record_from_json(tree)
    if any(kind == HEAD for kind, _ in rows):
        record_from_json({**tree, "steps": [PROBE_STEP]})
    return None


def _refuse_out_of_order(visit: Visit, record: Record, step: dict[str, Any]) -> None:
    refuse_late_as_found(record)
    if step["kind"] in BARRED:
        refuse_before_as_found(visit.job, record, lambda: judged(visit).judgement)
        refuse_before_decision(visit.job, lambda: judged(visit).judgement, len(record.steps) - 1)
