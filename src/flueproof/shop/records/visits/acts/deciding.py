"""Hold a job until its owner has decided, and keep what was decided, by whom and when."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from django.db import transaction
from django.utils import timezone

from flueproof.bench.errors import RecordError
from flueproof.shop.records.jobs.moving import move_job, note_moment
from flueproof.shop.records.models import Job, JobMoment, Person, Visit
from flueproof.shop.records.visits.events import append
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.projection import HEAD, STEP, record_tree
from flueproof.shop.records.visits.rules.call_first import (
    CALL_AGAIN,
    DECISION,
    DECISIONS,
    GO_ON,
    decision_of,
    last_decision,
    must_call,
)
from flueproof.shop.records.visits.rules.phase import AS_LEFT

WAITS_FOR: Final = "the owner's decision"
_KEYS: Final = ("format", "references", "steps")


def hold_for_owner(visit: Visit, by: Person, now: datetime) -> Job:
    """Put the job on hold, its clock stopped, until the owner has decided; on hold already changes nothing.

    Raises: RecordError when nobody has to be called, MoveRefusedError.
    """
    with transaction.atomic():
        job: Job = Job.objects.select_for_update().get(pk=visit.job_id)
        found = judged(visit)
        if found.phase == AS_LEFT or not must_call(job, found.judgement):
            raise RecordError("$.job", "nothing here asks for a call before the work.", "Go on with the plan.")
        if job.state != "held":
            job = move_job(job, "held", by, now, why="found outside: call the owner first", waits_for=WAITS_FOR)
    return job


def decide(
    visit: Visit, decision: str, said_by: str, said_at: datetime, words: str, by: Person, now: datetime
) -> JobMoment:
    """Keep the owner's decision, in the job and in the record, and let the job go on accordingly.

    decision: see DECISIONS; said_by, said_at: who said it and when; words: what was said. "go-on" and
    "return-unadjusted" change the order in the record (a new head; the old one stays); "call-again" keeps the hold.
    The same decision said again changes nothing.
    Raises: RecordError, MoveRefusedError; nothing is written then.
    """
    if decision not in dict(DECISIONS):
        raise RecordError("$.decision", f"{decision!r} is no decision.", "Choose one of the three.")
    if said_at > now:
        raise RecordError("$.said_at", "the call lies in the future.", "Correct day or time.")
    moment_text = _moment_text(decision, said_by, said_at, words)
    with transaction.atomic():
        job = Job.objects.select_for_update().get(pk=visit.job_id)
        before = last_decision(job)
        if before is not None and before.text == moment_text:
            return before
        if judged(visit).phase == AS_LEFT and decision_of(before) == GO_ON:
            raise RecordError("$.decision", "the work has begun as the owner decided.", "Write what changed as a note.")
        append(visit, STEP, {"kind": "note", "text": f"Owner's decision, {moment_text}"}, by, now)
        moment = note_moment(job, DECISION, by, now, text=moment_text)
        if decision != CALL_AGAIN:
            _amend_order(visit, job, decision, by, now)
            if job.state == "held":
                move_job(job, "bench", by, now, why="the owner decided")
        elif job.state == "bench":
            move_job(job, "held", by, now, why="the owner is to be called again", waits_for=WAITS_FOR)
    return moment


def _moment_text(decision: str, said_by: str, said_at: datetime, words: str) -> str:
    when = timezone.localtime(said_at).strftime("%Y-%m-%d %H:%M")
    said = f" {words.strip()}" if words.strip() else ""
    return f"{decision}: said by {said_by.strip()} on {when}.{said}"


def _amend_order(visit: Visit, job: Job, decision: str, by: Person, now: datetime) -> None:
    """Write the order as the owner now wants it: adjust if needed, or verify and return."""
    tree = record_tree(visit)
    head: dict[str, Any] = {key: value for key, value in tree.items() if key not in _KEYS}
    service = job.service
    if decision != GO_ON:
        service = "verify"
    elif service == "call-first":
        service = "verify-adjust"
    if head["order"]["service"] != service:
        append(visit, HEAD, {**head, "order": {**head["order"], "service": service}}, by, now)
    if job.service != service:
        job.service = service
        job.save()
