"""Clock events of a job that lived before there was a clock: worked out from its moments, once."""

from __future__ import annotations

import datetime as dt
from typing import Final

from django.db import transaction

from flueproof.shop.records.models import ClockEvent, Job, JobMoment
from flueproof.shop.records.promises.clock import note_clock
from flueproof.shop.records.promises.events import NOT_READY
from flueproof.shop.records.promises.following import STOPS

_CAME: Final = frozenset({"requested", ""})


def clock_from_moments(job: Job, now: dt.datetime) -> int:
    """Tell the clock of a job what its moments say, each at its own time; return how many things were told.

    A job that came without a moment of it (it was opened with its box) came when it was opened. What was promised is
    the job's promised day. A job whose clock heard of its box is left alone.
    """
    with transaction.atomic():
        row = Job.objects.select_for_update().get(pk=job.pk)
        if row.state == "requested" or row.clock_events.filter(kind="arrived").exists():
            return 0
        before = row.clock_events.count()
        moves = list(row.moments.filter(what="state").select_related("by"))
        came = next((move.at for move in moves if move.state_before in _CAME), row.opened_at)
        for kind in ("arrived", "paperwork-complete"):
            note_clock(row, kind, now, at=came)
        if not before:
            for move in moves:
                _tell(row, move, now)
        job.promised_on, job.version = row.promised_on, row.version
        told: int = ClockEvent.objects.filter(job=row).count() - before
    return told


def jobs_without_a_clock() -> list[Job]:
    """Return the open jobs that are here and whose clock heard nothing of it."""
    rows = Job.objects.filter(state__in=Job.OPEN).exclude(state="requested").exclude(clock_events__kind="arrived")
    return list(rows.order_by("id"))


def _tell(job: Job, move: JobMoment, now: dt.datetime) -> None:
    """Tell the clock what one move meant for it."""
    before, to = move.state_before, move.state_after
    if before in STOPS:
        _note(job, "went-on", now, move, cause=STOPS[before])
    if before == "to-return" and to in {"bench", "held"}:
        _note(job, "went-on", now, move, cause=NOT_READY)
    if to in STOPS:
        _note(job, "stopped", now, move, cause=STOPS[to])
    kind = {"to-return": "ready", "returned": "delivered", "dropped": "called-off"}.get(to)
    if kind:
        _note(job, kind, now, move)


def _note(job: Job, kind: str, now: dt.datetime, move: JobMoment, cause: str = "") -> None:
    note_clock(job, kind, now, at=move.at, cause=cause, words=move.text, by=move.by)
