"""From what was scanned or typed to an open visit on the bench."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from django.db import transaction
from django.db.models import Q, QuerySet

from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.keeping.numbering import as_numbered
from flueproof.shop.records.keeping.plate_key import lookalike_key, plate_key
from flueproof.shop.records.models import Analyzer, Job, Person, Shop, Visit
from flueproof.shop.records.visits.opening import open_visit

_MOST: Final = 20
_COME_BACK: Final = frozenset({"arrived", "parts"})


@dataclass(frozen=True, slots=True)
class Found:
    """What a scan or typed text means: open jobs; analyzers that are known; whether they only look alike."""

    jobs: tuple[Job, ...] = ()
    analyzers: tuple[Analyzer, ...] = ()
    alike: bool = False


def jobs_meant(text: str) -> Found:
    """Return the open jobs that a serial number, job number or model's name means.

    A serial that nobody knows is tried once more with letters and digits that look alike on a worn plate.
    """
    given = text.strip()
    key = plate_key(given)
    if not key:
        return Found()
    jobs = _open().filter(number=as_numbered(given))
    if jobs.exists():
        return Found(jobs=tuple(jobs))
    by_name = Q(model__iexact=given)
    known = list(Analyzer.objects.filter(Q(serial_key=key) | by_name)[:_MOST])
    alike = not known
    if alike:
        known = list(Analyzer.objects.filter(lookalike=lookalike_key(given))[:_MOST])
    jobs = _open().filter(analyzer__in=known) if known else Job.objects.none()
    return Found(tuple(jobs[:_MOST]), tuple(known), alike=alike and bool(known))


def bring_to_bench(job: Job, by: Person, now: datetime, shop: Shop) -> Visit:
    """Open the job's visit and move the job to the bench; a job on hold or ready to sign stays where it is.

    Raises: RecordError when the job's data make no head of a record, MoveRefusedError when it is not here.
    """
    with transaction.atomic():
        if job.state == "requested":
            move_job(job, "arrived", by, now, why="scanned at the bench")
        visit = open_visit(job, by, now, shop)
        current = Job.objects.get(pk=job.pk)
        if current.state in _COME_BACK:
            move_job(current, "bench", by, now, why="on the bench")
    return visit


def back_to_bench(job: Job, by: Person, now: datetime, why: str) -> Job:
    """Bring a job that is ready to sign or on hold back to the bench, with the reason.

    Raises: MoveRefusedError.
    """
    return move_job(job, "bench", by, now, why=why)


def _open() -> QuerySet[Job]:
    return Job.objects.filter(state__in=Job.OPEN).select_related("owner", "analyzer").order_by("promised_on", "id")
