"""When the bench is done: the job goes to the desk that signs."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from flueproof.bench.errors import RecordError
from flueproof.papers.content.outcome import paper_kind, verdict_of
from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import Application, Job, Person, Visit
from flueproof.shop.records.visits.judged import Judged, judged


def may_be_signed(found: Judged) -> bool:
    """Tell whether the record as it stands gets a certificate."""
    if found.record is None or found.judgement is None:
        return False
    return paper_kind(found.record, found.judgement, found.profile).certificate


def may_be_reported(found: Judged) -> bool:
    """Tell whether a bench report, which is no certificate, can close the bench work: something was measured."""
    return found.judgement is not None and verdict_of(found.judgement) is not None and not may_be_signed(found)


def finish_bench(visit: Visit, by: Person, now: datetime, *, report: bool = False) -> Job:
    """Move the job to "ready to sign"; there already changes nothing.

    report: close with a bench report where no certificate can be had.
    Raises: RecordError, MoveRefusedError.
    """
    with transaction.atomic():
        job: Job = Job.objects.select_for_update().get(pk=visit.job_id)
        if job.state == "to-sign":
            return job
        if Application.objects.filter(visit=visit, ended_at=None).exists():
            raise RecordError("$.job", "a measurement is running.", "Finish it or drop it first.")
        found = judged(visit)
        if not may_be_signed(found) and not (report and may_be_reported(found)):
            raise RecordError("$.job", "the record cannot be signed as it stands.", "Do what the outcome asks for.")
        why = "bench work done" if may_be_signed(found) else "closed with a bench report, no certificate"
        return move_job(job, "to-sign", by, now, why=why)
