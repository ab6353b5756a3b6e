"""How long the clock stood, in business days: exactly, and in the whole days by which a promise moves.

A moment has a place in its business day: 0 at opening, 1 at closing, in proportion between. Nights, weekends and
holidays have no length. So a stop that is cut in two has the length of its parts together, whatever the cut.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from math import ceil, floor

from flueproof.promise.calendar.shop_calendar import ShopCalendar

MICROSECOND = timedelta(microseconds=1)


@dataclass(frozen=True)
class Span:
    """A stretch of time [since, until), moments in UTC."""

    since: datetime
    until: datetime


def merged(spans: Iterable[Span]) -> list[Span]:
    """Return the spans in order with no overlap and none that touch; empty ones are left out."""
    found: list[Span] = []
    for span in sorted(spans, key=lambda one: one.since):
        if span.until <= span.since:
            continue
        if found and span.since <= found[-1].until:
            found[-1] = Span(found[-1].since, max(found[-1].until, span.until))
        else:
            found.append(span)
    return found


def within(spans: Iterable[Span], first: datetime, last: datetime) -> list[Span]:
    """Return the parts of the spans that lie between two moments (UTC)."""
    cut = [Span(max(span.since, first), min(span.until, last)) for span in spans]
    return [span for span in cut if span.until > span.since]


def length(calendar: ShopCalendar, span: Span) -> Fraction:
    """Return the business days [d] of a span, part days included, exactly."""
    first, last = calendar.today(span.since), calendar.today(span.until)
    whole = calendar.business_days_between(first, last)
    return whole + _place(calendar, span.until) - _place(calendar, span.since)


def _place(calendar: ShopCalendar, moment: datetime) -> Fraction:
    """Return the place of a moment in its day, 0 to 1, less 1 on a business day: whole days are counted at their end.

    A day whose opening and closing fall together (both in a missing hour) passes at once.
    """
    day = calendar.today(moment)
    if not calendar.is_business_day(day):
        return Fraction(0)
    opens, closes = calendar.hours_of(day)
    if closes <= opens:
        return Fraction(-1 if moment < closes else 0)
    passed = min(max(moment.astimezone(UTC), opens), closes) - opens
    return Fraction(passed // MICROSECOND, (closes - opens) // MICROSECOND) - 1


def stood(calendar: ShopCalendar, spans: Iterable[Span]) -> Fraction:
    """Return the business days [d] that the clock stood in all spans together; what overlaps counts once."""
    return sum((length(calendar, span) for span in merged(spans)), Fraction(0))


def day_ends(calendar: ShopCalendar, spans: Iterable[Span]) -> int:
    """Return how many business days closed while the clock stood: nothing of such a day was left to work in.

    A span that begins at closing time has lost nothing of that day; one that ends then has lost it.
    """
    count = 0
    for span in merged(spans):
        first, last = calendar.today(span.since), calendar.today(span.until)
        count += calendar.business_days_between(first, last)
        count += _still_open(calendar, first, span.since) - _still_open(calendar, last, span.until)
    return count


def _still_open(calendar: ShopCalendar, day: date, moment: datetime) -> bool:
    """Return True if a business day has not closed yet."""
    return calendar.is_business_day(day) and moment < calendar.hours_of(day)[1]


def whole_of(exact: Fraction, ends: int) -> int:
    """Return the whole business days [d] that count, of an exact sum [d] in which so many business days closed.

    A sum between two whole numbers counts as the higher if at least so many business days closed while the clock
    stood (the day was lost), else as the lower (the rest of the day was still there to work in). So the result is
    never more than a part day off, and it never falls as the sum and the ends grow.
    Our own choice; no source.
    """
    higher = ceil(exact)
    return higher if ends >= higher else floor(exact)


def whole_days(calendar: ShopCalendar, spans: Iterable[Span]) -> int:
    """Return the whole business days [d] by which the promise moves; part days add up over all spans."""
    together = merged(spans)
    return whole_of(stood(calendar, together), day_ends(calendar, together))
