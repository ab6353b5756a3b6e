"""Withdrawing a reference, and every visit that rested on it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.db.models import QuerySet

from flueproof.shop.records.access.outbox import tell
from flueproof.shop.records.keeping.json_text import IdInJson
from flueproof.shop.records.models import BenchEvent, Job, Paper, Person, Reference, Visit
from flueproof.shop.records.visits.projection import REFERENCE


class NoReasonError(ValueError):
    """Withdrawing without a reason."""


@dataclass(frozen=True, slots=True)
class JudgedVisit:
    """A visit that took a reference into its record: when first, in which job, and the papers issued of it."""

    visit: Visit
    job: Job
    at: datetime
    papers: tuple[Paper, ...]


def withdraw(reference: Reference, why: str, by: Person, now: datetime) -> Reference:
    """Withdraw a reference for good and return it; one that is withdrawn already is left as it is.

    Raises: NoReasonError.
    """
    reason = why.strip()
    if not reason:
        raise NoReasonError("Write why: everybody who meets this reference later needs to know.")
    with transaction.atomic():
        row: Reference = Reference.objects.select_for_update().get(pk=reference.pk)
        if row.state == "withdrawn":
            return row
        row.state, row.withdrawn_why = "withdrawn", reason
        row._history_user = by  # type: ignore[attr-defined] # noqa: SLF001 -- the documented way of simple_history
        row.save()
        jobs = sorted({one.job.number for one in judged_by(row)})
        tell("reference-withdrawn", {"reference": row.code, "why": reason, "jobs": jobs}, now)
    return row


def judged_by(reference: Reference) -> list[JudgedVisit]:
    """Return every visit whose bench record holds the reference, the newest first, each once."""
    first: dict[int, BenchEvent] = {}
    for event in taken_in(reference).select_related("visit__job__owner", "visit__job__analyzer").order_by("id"):
        first.setdefault(event.visit_id, event)
    papers: dict[int, list[Paper]] = {}
    for paper in Paper.objects.filter(visit_id__in=first).order_by("id"):
        papers.setdefault(paper.visit_id, []).append(paper)
    return [
        JudgedVisit(event.visit, event.visit.job, event.at, tuple(papers.get(key, ())))
        for key, event in sorted(first.items(), key=lambda item: item[1].pk, reverse=True)
    ]


def taken_in(reference: Reference) -> QuerySet[BenchEvent]:
    """Return the rows of all bench records that hold the reference, asked by their own index."""
    return BenchEvent.objects.annotate(code=IdInJson("body")).filter(kind=REFERENCE, code=reference.code)
