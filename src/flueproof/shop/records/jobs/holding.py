"""Holding a job until its owner decides, and letting it go on: the reason and who decided are kept for ever."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from flueproof.shop.records.jobs.moving import MoveRefusedError, move_job, note_moment
from flueproof.shop.records.models import Job, Person


def hold(job: Job, by: Person, now: datetime, why: str, waits_for: str = "") -> Job:
    """Stop the job and its clock until somebody decides; holding a held job changes nothing.

    waits_for: shown on the tag; why: kept with the moment.
    Raises: MoveRefusedError (no reason given, or it cannot be held from where it is).
    """
    if not why.strip():
        raise MoveRefusedError("Say why the job is held: the reason is kept and shown")
    return move_job(job, "held", by, now, why=why.strip(), waits_for=waits_for.strip() or "owner to decide")


def held_from(job: Job) -> str:
    """Return the state in which the job was when it was held or sent for parts; `arrived` when nothing tells."""
    last = job.moments.filter(what="state", state_after=job.state).order_by("-id").first()
    return last.state_before if last is not None and last.state_before else "arrived"


def release(job: Job, to: str, by: Person, now: datetime, decided_by: str, decision: str) -> Job:
    """Let a held job (or one that waited for parts) go on, with who decided what.

    Releasing a job that goes on already changes nothing.
    Raises: MoveRefusedError.
    """
    if not decided_by.strip() or not decision.strip():
        raise MoveRefusedError("Say who decided and what: it is kept with the job")
    with transaction.atomic():
        row: Job = Job.objects.select_for_update().get(pk=job.pk)
        if row.state not in {"held", "parts"}:
            return row
        note_moment(row, "decision", by, now, text=f"{decided_by.strip()}: {decision.strip()}")
        return move_job(row, to, by, now, why=decision.strip())
