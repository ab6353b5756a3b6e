"""The promise clock follows what happens to a job: its moves, and a changed order."""

from __future__ import annotations

import datetime as dt
from typing import Final

from flueproof.shop.records.models import Job, Person
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.clock import BY_CLOCK, clock_of, give_promise, note_clock
from flueproof.shop.records.promises.events import NOT_READY, life_rows
from flueproof.shop.records.promises.minutes import keep_minutes

STOPS: Final = {"held": "owner", "parts": "parts", "sent-on": "other-shop"}
"""States in which the clock stands, and for what."""


def follow_move(job: Job, before: str, by: Person | None, now: dt.datetime) -> None:
    """Tell the clock of a job that it was moved from the state `before` to the one it has."""
    to = job.state
    if before == "bench":
        keep_minutes(job)
    if before == "requested" and to == "arrived":
        box_is_here(job, by, now)
    if before in STOPS:
        note_clock(job, "went-on", now, cause=STOPS[before], by=by)
    if before == "to-return" and to in {"bench", "held"}:
        note_clock(job, "went-on", now, cause=NOT_READY, by=by, words="not ready after all")
    if before == "to-return":
        note_clock(job, "went-on", now, cause="payment", by=by)
    if to in STOPS and not _own_delay(job):
        note_clock(job, "stopped", now, cause=STOPS[to], by=by, words=job.waits_for)
    if to == "to-return":
        note_clock(job, "ready", now, by=by)
        follow_payment(job, by, now)
    if to == "returned":
        note_clock(job, "delivered", now, by=by)
    if to == "dropped":
        note_clock(job, "called-off", now, by=by)


def box_is_here(job: Job, by: Person | None, now: dt.datetime, at: dt.datetime | None = None) -> None:
    """Tell the clock that the box came, and look whether the paperwork is complete too.

    A box that is entered on a later day counts from the morning of the day on which it came.
    """
    from flueproof.shop.records.promises.paperwork import check_paperwork  # noqa: PLC0415 -- it reads jobs' own services

    calendar = shop_calendar()
    if at is None and job.received_on is not None and job.received_on < calendar.today(now):
        at = calendar.opening_moment(job.received_on)
    note_clock(job, "arrived", now, at=at, by=by)
    check_paperwork(job, by, now, at=at)


def follow_payment(job: Job, by: Person | None, now: dt.datetime) -> None:
    """Stop the clock of a job that is ready but goes back only when paid, or let it go on."""
    held = job.payment_held and job.state == "to-return"
    note_clock(job, "stopped" if held else "went-on", now, cause="payment", by=by)


def follow_order(job: Job, by: Person | None, now: dt.datetime) -> None:
    """Tell the clock of a changed order: another service, or a day that a person promised by hand.

    Call it inside the transaction that saved the job.
    """
    rows = life_rows(job)
    if not rows or not job.is_open:
        return
    told = [row.terms["service"] for row in rows if row.terms.get("service")]
    before = told[-1] if told else job.service
    if before != job.service:
        note_clock(job, "service", now, by=by, told={"service": job.service, "before": before})
    day = _by_hand(job)
    if day is not None and day != clock_of(job, now).promised_on:
        give_promise(job, now, by, day=day)


def _by_hand(job: Job) -> dt.date | None:
    """Return the promised day where the last change of the job, by a person, was one of it."""
    last = list(job.history.all()[:2])
    if len(last) < 2 or last[0].history_change_reason == BY_CLOCK:
        return None
    day: dt.date | None = last[0].promised_on
    return day if day != last[1].promised_on else None


def _own_delay(job: Job) -> bool:
    """Return True where a job is held for a reason of the shop's own: a morning check that failed."""
    from flueproof.shop.records.gas.holding import WAITS_FOR  # noqa: PLC0415 -- the gas room moves jobs itself

    return job.waits_for == WAITS_FOR
