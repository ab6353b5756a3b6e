"""Promises as they travel, and the answer to "can it be done by then?"."""

from __future__ import annotations

from datetime import date, datetime

from ninja import Schema
from pydantic import Field

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.clock.promise_state import PromiseState
from flueproof.promise.clock.stops import Stop
from flueproof.promise.clock.wording import promise_in_words, stop_in_words
from flueproof.shop.records.models import Job
from flueproof.shop.records.promises.questions import Answered, Delayed


class StopOut(Schema):
    """One stop of the clock; `until` is empty while it stands."""

    why: str = Field(description="owner, quote, paperwork, payment, parts, other-shop or other.")
    words: str = Field(description="What it waits for.")
    since: datetime
    until: datetime | None
    moved_days: int = Field(description="Whole business days by which it moved the promise [d].")
    in_words: str


class PromiseOut(Schema):
    """Where the promise of a job stands now. Days are days of the shop's calendar."""

    job: str
    status: str = Field(description="not-started, running, standing, done or dropped.")
    means: str = Field(description="Promised is: ready to go back, or delivered.")
    started_at: datetime | None
    promised_on: date | None
    given_on: date | None = Field(description="The day that the owner was told last.")
    ready_by: date | None
    deadline: datetime | None = Field(description="Closing time of the day on which it is to be ready.")
    used_days: int
    left_days: int | None
    late_by_days: int
    moved_days: int
    stops: list[StopOut]
    missing: list[str] = Field(description="What is missing before the clock starts.")
    risks: list[str]
    ready_at: datetime | None
    ended_at: datetime | None
    in_words: str
    in_words_for_the_owner: str


class LaterOut(Schema):
    """A job that would be done later."""

    job: str
    who: str
    minutes: int = Field(description="Working minutes [min].")
    ends: datetime
    promised: datetime | None
    breaks: bool = Field(description="Its promise would break.")


class CanOut(Schema):
    """The answer; nothing is kept or promised by asking."""

    verdict: str = Field(description='"yes", "costs promises" or "no".')
    job: str | None
    by: datetime
    ends: datetime = Field(description="When it would be done in this answer.")
    earliest: datetime | None = Field(description="The first moment that breaks no promise, where there is one.")
    soonest: datetime = Field(description="The first moment at any price.")
    later: list[LaterOut] = Field(description="What it costs the others, broken promises first.")


def promise_out(job: Job, state: PromiseState, calendar: ShopCalendar) -> PromiseOut:
    """Return the state of a promise as it travels."""
    return PromiseOut(
        job=job.number,
        status=state.status,
        means=state.means,
        started_at=state.started_at,
        promised_on=state.promised_on,
        given_on=state.given_on,
        ready_by=state.ready_by,
        deadline=state.deadline,
        used_days=state.used,
        left_days=state.left,
        late_by_days=state.late_by,
        moved_days=state.moved_days,
        stops=[_stop(one, calendar) for one in state.stops],
        missing=list(state.missing),
        risks=list(state.risks),
        ready_at=state.ready_at,
        ended_at=state.ended_at,
        in_words=promise_in_words(state, calendar),
        in_words_for_the_owner=promise_in_words(state, calendar, "owner"),
    )


def can_out(answer: Answered) -> CanOut:
    """Return the answer to "can it be done by then?" as it travels."""
    return CanOut(
        verdict=answer.verdict,
        job=answer.job.number if answer.job else None,
        by=answer.by,
        ends=answer.ends,
        earliest=answer.earliest,
        soonest=answer.soonest,
        later=[_later(one) for one in answer.later],
    )


def _stop(stop: Stop, calendar: ShopCalendar) -> StopOut:
    return StopOut(
        why=stop.why,
        words=stop.words,
        since=stop.since,
        until=stop.until,
        moved_days=stop.moved,
        in_words=stop_in_words(stop, calendar),
    )


def _later(one: Delayed) -> LaterOut:
    return LaterOut(
        job=one.number, who=one.who, minutes=one.minutes, ends=one.ends, promised=one.promised, breaks=one.breaks
    )
