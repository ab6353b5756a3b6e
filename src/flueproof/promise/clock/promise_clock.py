"""The promise clock: a pure function of what happened, the terms, the calendar and the moment of asking.

It starts when box and paperwork are complete, stands while the job waits for somebody outside the shop, and never
counts backwards: stops and a longer service move a promise forward; a calendar or terms changed after the promise
was given leave it where it is and show as a risk.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.clock.events import Event, in_order
from flueproof.promise.clock.promise_state import PromiseState
from flueproof.promise.clock.replay import Life, life_of
from flueproof.promise.clock.standing import Span, merged, stood, whole_days, within
from flueproof.promise.clock.stops import costed, spans_of
from flueproof.promise.clock.terms import Terms
from flueproof.promise.clock.wording import day_in_words, days_in_words, events_not_counted


def promise_state(events: Iterable[Event], terms: Terms, calendar: ShopCalendar, now: datetime) -> PromiseState:
    """Return where the promise stands at `now`.

    events: in any order; those dated after `now` are left out and named in `notices`.
    Raises: BadEventError, BadTermsError, CalendarError.
    """
    happened, later = in_order(events, now)
    life = life_of(happened, terms)
    count = _Count(life, calendar, now.astimezone(UTC))
    promised = count.promised_on(count.last)
    ready_by = None if promised is None else _ready_by(calendar, promised, terms.in_transit)
    return PromiseState(
        status=count.status(),
        means=terms.means,
        now=now,
        started_at=life.started_at,
        day_zero=count.day_zero,
        promised_on=promised,
        given_on=life.given.day if life.given else None,
        counted_on=count.counted_on(),
        ready_by=ready_by,
        deadline=None if ready_by is None else calendar.closing_moment(ready_by),
        stops=costed(calendar, life.book.stops, count.runs_from, count.last),
        moved_days=count.moved(count.last),
        carried=stood(calendar, count.stopped(count.last)) - count.moved(count.last),
        used=count.used(),
        left=count.left(),
        late_by=count.late_by(),
        ready_at=life.ready_at,
        ended_at=life.ended_at,
        missing=_missing(life),
        risks=tuple(count.risks(promised)) if promised and life.ended_at is None else (),
        notices=tuple(events_not_counted(later, life.book.stray, calendar)),
        needs_giving=count.needs_giving(promised),
    )


@dataclass
class _Count:
    """The counting of one life: moments in UTC, `last` being now or the end of the promise."""

    life: Life
    calendar: ShopCalendar
    now: datetime

    def __post_init__(self) -> None:
        end = self.life.ended_at
        self._moved: dict[datetime, int] = {}
        self.last = self.now if end is None else end.astimezone(UTC)
        started = self.life.started_at
        self.day_zero = None if started is None else self.calendar.counted_from(started)
        self.runs_from = self.last if started is None else self._first_counted(started)

    def _first_counted(self, started: datetime) -> datetime:
        """Return the start, or the opening of day 0 if that is a later day: no stop counts before it."""
        zero = self.day_zero or self.calendar.counted_from(started)
        if zero == self.calendar.today(started):
            return started.astimezone(UTC)
        return self.calendar.opening_moment(zero).astimezone(UTC)

    def stopped(self, until: datetime) -> list[Span]:
        """Return the stretches for which the clock stood until a moment."""
        return within(spans_of(self.life.book.stops, self.last), self.runs_from, min(until, self.last))

    def moved(self, until: datetime) -> int:
        """Return the whole business days by which stops had moved the promise at a moment."""
        if until not in self._moved:
            self._moved[until] = whole_days(self.calendar, self.stopped(until))
        return self._moved[until]

    def status(self) -> str:
        """Return the status in one word."""
        if self.life.dropped_at is not None and self.life.ended_at == self.life.dropped_at:
            return "dropped"
        if self.life.ended_at is not None:
            return "done"
        if self.life.started_at is None:
            return "not-started"
        return "standing" if any(stop.until is None for stop in self.life.book.stops) else "running"

    def counted_on(self) -> date | None:
        """Return the day that the service as it is, the stops and today's calendar and terms give from scratch."""
        if self.day_zero is None:
            return None
        days = self.life.terms.business_days(self.life.service) + self.moved(self.last)
        return self.calendar.add_business_days(self.day_zero, days)

    def promised_on(self, moment: datetime) -> date | None:
        """Return the day owed at a moment: the one given and what moved it, or else that of the longest service."""
        if self.life.given is not None:
            return self._shifted(self.life.given.day, moment)
        if self.day_zero is None:
            return None
        return self.calendar.add_business_days(self.day_zero, (self.life.most_days or 0) + self.moved(moment))

    def _shifted(self, day: date, moment: datetime) -> date:
        """Return a day told with the last promise, moved by what happened since; else it stays, even if closed."""
        if self.life.given is None:
            return day
        since = (self.life.most_days or 0) - self.life.days_when_given
        since += self.moved(moment) - self.moved(self.life.given.moment)
        return self.calendar.add_business_days(self.calendar.last_business_day(day), since) if since else day

    def as_of(self) -> datetime:
        """Return the moment for which days used, left and late are said: the last one at which the clock ran."""
        if self.status() != "standing":
            return self.last
        stretches = merged(self.stopped(self.last))
        return next((span.since for span in stretches if span.until == self.last), self.last)

    def used(self) -> int:
        """Return the business days used, without those for which the clock stood."""
        if self.day_zero is None:
            return 0
        moment = self.as_of()
        days = self.calendar.business_days_between(self.day_zero, self.calendar.today(moment))
        return max(days - self.moved(moment), 0)

    def left(self) -> int | None:
        """Return the business days left to the day owed; negative once it is past."""
        moment = self.as_of()
        promised = self.promised_on(moment)
        return None if promised is None else self.calendar.business_days_between(self.calendar.today(moment), promised)

    def late_by(self) -> int:
        """Return the business days past the day owed, at least one as soon as it is over; 0 if nothing is owed."""
        moment = self.as_of()
        promised, today = self.promised_on(moment), self.calendar.today(moment)
        if promised is None or today <= promised or self.status() == "dropped":
            return 0
        return self.calendar.business_days_between(promised, self.calendar.first_business_day(today))

    def needs_giving(self, promised: date | None) -> bool:
        """Return True if the day owed is not the one last given, and does not move on by itself."""
        given = self.life.given.day if self.life.given else None
        return self.status() == "running" and promised != given

    def risks(self, promised: date) -> list[str]:
        """Return what endangers the promise though it stays where it is."""
        found = []
        closed = self.calendar.why_closed(promised)
        if closed:
            before = self.calendar.last_business_day(promised)
            found.append(
                f"{day_in_words(promised)} is now a closed day ({closed}); "
                f"the promise stays, so it has to be done by {day_in_words(before)}."
            )
        counted, given = self.counted_on(), self.life.given
        if counted is not None and given is not None:
            short = self.calendar.business_days_between(self._shifted(given.counted or given.day, self.last), counted)
            if short > 0:
                found.append(
                    f"By today's calendar and terms it would be {day_in_words(counted)}; the promise stays, "
                    f"with {days_in_words(short)} less to keep it."
                )
        return found


def _ready_by(calendar: ShopCalendar, promised: date, in_transit: int) -> date:
    """Return the last business day to get it ready; a promised day that was closed later counts from the one before."""
    return calendar.add_business_days(calendar.last_business_day(promised), -in_transit)


def _missing(life: Life) -> tuple[str, ...]:
    """Return what holds up the start, in words."""
    if life.started_at is not None or life.ended_at is not None:
        return ()
    box = () if life.arrived else ("the box",)
    paper = () if life.paperwork_complete else ((f"paperwork: {life.missing}" if life.missing else "the paperwork"),)
    return (*box, *paper)
