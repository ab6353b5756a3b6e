"""That was the wrong one: a box that was recognized wrongly is put back, by adding, never by erasing."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from flueproof.shop.records.intake.arrivals import ArrivalRefusedError, locked, save_by
from flueproof.shop.records.jobs.moving import move_job, note_moment
from flueproof.shop.records.models import Arrival, Job, Person


def put_back(arrival: Arrival, why: str, by: Person, now: datetime) -> Arrival:
    """Say that the box was taken for the wrong one: it is not known again, and the job waits as before, or is dropped.

    A job that was made for this box is dropped; one that was asked for before waits for its box again. Both keep a
    moment with the reason.
    Raises: ArrivalRefusedError without a reason, or when the job has been on the bench.
    """
    if not why.strip():
        raise ArrivalRefusedError("Say what was wrong; the words are kept with the job")
    with transaction.atomic():
        row = locked(arrival)
        if row.state != "known":
            return row
        job: Job | None = row.job
        if job is not None:
            if job.visits.exists():
                raise ArrivalRefusedError(
                    f"{job.number} has been on the bench already; talk to the technician, and note it with the job"
                )
            alone = not job.arrivals.filter(state="known").exclude(pk=row.pk).exists()
            if alone:
                _send_back(job, why.strip(), by, now, made_for_it=bool(row.weighed.get("opened")))
            note_moment(job, "wrong box, put back", by, now, text=f"{row.box}: {why.strip()}")
        row.state, row.analyzer, row.job = "open", None, None
        row.weighed = {}
        row.note = "\n".join(part for part in (row.note, f"Was taken for the wrong one: {why.strip()}") if part)
        save_by(row, by)
    return row


def _send_back(job: Job, why: str, by: Person, now: datetime, *, made_for_it: bool) -> None:
    """Drop a job that was made for a box, or let it wait for its box as before."""
    if job.state not in {"arrived", "held"}:
        raise ArrivalRefusedError(f"{job.number} is {job.get_state_display()}; bring it back to the shelf first")
    if job.state == "held":
        job = move_job(job, "arrived", by, now, why=why)
    job = move_job(job, "dropped", by, now, why=f"wrong box: {why}")
    if not made_for_it:
        job = move_job(job, "requested", by, now, why="waits for its own box")
    job.received_on, job.enclosed, job.condition = None, [], ""
    save_by(job, by)
