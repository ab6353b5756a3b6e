"""Working time: minutes between two moments, and the moment after so many minutes, at the shop's hours.

Minutes are real ones: on a day when the clock is changed within the working hours, the day is longer or shorter. All
sums are made in UTC: two Python moments of one zone are compared and subtracted by the wall clock.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta

from flueproof.promise.calendar.shop_calendar import ONE_DAY, ShopCalendar
from flueproof.promise.calendar.wall_clock import local

MINUTE = timedelta(minutes=1)


def open_spans(calendar: ShopCalendar, first: date, last: date) -> Iterator[tuple[datetime, datetime]]:
    """Yield (opens, closes) of every business day from `first` to `last`, both included, as moments in UTC."""
    day = first
    while day <= last:
        if calendar.is_business_day(day):
            yield calendar.hours_of(day)
        day += ONE_DAY


def minutes_between(calendar: ShopCalendar, start: datetime, end: datetime) -> float:
    """Return the minutes of working time [min] from start to end; negative if end is earlier.

    Raises: NaiveMomentError, OutsideCalendarError.
    """
    first, last = calendar.today(start), calendar.today(end)
    start, end = start.astimezone(UTC), end.astimezone(UTC)
    if end < start:
        return -minutes_between(calendar, end, start)
    spans = open_spans(calendar, first, last)
    return sum(max(min(closes, end) - max(opens, start), timedelta(0)) / MINUTE for opens, closes in spans)


def moment_after(calendar: ShopCalendar, start: datetime, minutes: float) -> datetime:
    """Return the earliest moment, in the shop's zone, by which so many minutes have been worked since start.

    Work that fills the day ends at closing time, not at the next opening; no minutes end at once.
    minutes: [min], not negative.
    Raises: NaiveMomentError, OutsideCalendarError, ValueError.
    """
    left, moment = _checked(minutes), local(start, calendar.zone)
    day, start = moment.date(), start.astimezone(UTC)
    while left > timedelta(0):
        day = calendar.first_business_day(day)
        opens, closes = calendar.hours_of(day)
        begins = max(opens, start)
        if begins + left <= closes:
            return (begins + left).astimezone(calendar.zone)
        left -= max(closes - begins, timedelta(0))
        day += ONE_DAY
    return moment


def moment_before(calendar: ShopCalendar, end: datetime, minutes: float) -> datetime:
    """Return the latest moment, in the shop's zone, from which so many minutes can be worked until end.

    minutes: [min], not negative.
    Raises: NaiveMomentError, OutsideCalendarError, ValueError.
    """
    left, moment = _checked(minutes), local(end, calendar.zone)
    day, end = moment.date(), end.astimezone(UTC)
    while left > timedelta(0):
        day = calendar.last_business_day(day)
        opens, closes = calendar.hours_of(day)
        ends = min(closes, end)
        if ends - left >= opens:
            return (ends - left).astimezone(calendar.zone)
        left -= max(ends - opens, timedelta(0))
        day -= ONE_DAY
    return moment


def next_open_moment(calendar: ShopCalendar, moment: datetime) -> datetime:
    """Return the moment itself while the shop works, else when it opens next. Raises: as `moment_after`."""
    there = local(moment, calendar.zone)
    day = calendar.first_business_day(there.date())
    opens, closes = calendar.hours_of(day)
    if moment >= closes:
        day = calendar.next_business_day(day)
        opens, _ = calendar.hours_of(day)
    return max(opens, moment.astimezone(UTC)).astimezone(calendar.zone)


def _checked(minutes: float) -> timedelta:
    if not 0 <= minutes < 1e8:
        raise ValueError(f"{minutes} minutes of work: give a number from 0")
    return timedelta(minutes=minutes)
