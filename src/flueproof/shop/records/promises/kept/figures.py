"""How promises were kept: each finished job by the first day its owner was told, however often it was told anew."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Final

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.clock.promise_clock import promise_state
from flueproof.promise.clock.promise_state import PromiseState
from flueproof.shop.records.models import ClockEvent, Job
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.events import events_of, life_rows
from flueproof.shop.records.promises.kept.broken import first_promise, told_again
from flueproof.shop.records.promises.terms import terms_of

SPANS: Final = (30, 90)
"""Days back from today over which jobs are counted [d]."""
_ENDS: Final = ("ready", "delivered")


@dataclass(frozen=True, slots=True)
class Ended:
    """A job whose promise has ended: the first day owed, when it ended, business days late (0: kept), new days told."""

    number: str
    who: str
    first: dt.date
    ended_at: dt.datetime
    late_by: int
    told_again: int

    @property
    def kept(self) -> bool:
        """Return True where the first promise was kept, and none after it was broken."""
        return not self.late_by and not self.told_again


@dataclass(frozen=True, slots=True)
class Span:
    """The jobs that ended in the last so many days, and how many of them kept their first promise."""

    days: int
    ended: int
    kept: int


@dataclass(frozen=True, slots=True)
class Figures:
    """How promises were kept lately; broken: the jobs that broke theirs, the last one first."""

    spans: list[Span]
    broken: list[Ended]


def figures_at(now: dt.datetime) -> Figures:
    """Return how the promises of the last weeks were kept. A called-off job and one without a promise do not count."""
    calendar, longest = shop_calendar(), max(SPANS)
    ended = _ended_since(now - dt.timedelta(days=longest), now, calendar)
    spans = []
    for days in SPANS:
        mine = [one for one in ended if one.ended_at >= now - dt.timedelta(days=days)]
        spans.append(Span(days, len(mine), sum(one.kept for one in mine)))
    broken = sorted((one for one in ended if not one.kept), key=lambda one: one.ended_at, reverse=True)
    return Figures(spans, broken)


def _ended_since(since: dt.datetime, now: dt.datetime, calendar: ShopCalendar) -> list[Ended]:
    keys = ClockEvent.objects.filter(kind__in=_ENDS, at__gte=since).values("job_id")
    jobs = Job.objects.filter(pk__in=keys).select_related("owner", "analyzer").prefetch_related("clock_events")
    found = []
    for job in jobs.order_by("id"):
        rows = life_rows(job)
        if not any(row.kind == "promised" for row in rows):
            continue
        first = first_promise(job, rows, calendar, now)
        if first.status != "done" or first.ended_at is None or first.promised_on is None or first.ended_at < since:
            continue
        again = told_again(rows)
        late_by = max(first.late_by, _late_at_the_end(job, rows, calendar, now).late_by)
        found.append(
            Ended(job.number, f"{job.analyzer} of {job.owner}", first.promised_on, first.ended_at, late_by, len(again))
        )
    return found


def _late_at_the_end(job: Job, rows: list[ClockEvent], calendar: ShopCalendar, now: dt.datetime) -> PromiseState:
    """Return where the last promise ended: an earlier day that was agreed later can be broken too."""
    return promise_state(events_of(rows), terms_of(job, rows), calendar, now)
