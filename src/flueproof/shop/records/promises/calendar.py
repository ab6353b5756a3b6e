"""The shop's calendar for the promise, from its settings and its own closed days."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from functools import lru_cache

from flueproof.promise.calendar.errors import CalendarError
from flueproof.promise.calendar.shop_calendar import Closure as ClosedDays
from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.shop.records.models import Shop
from flueproof.shop.records.models.promising.hours import Closure

_LONGEST = 366


def shop_calendar(shop: Shop | None = None) -> ShopCalendar:
    """Return the calendar as it is set now; the same one as long as nothing was changed, with its years worked out."""
    return calendar_with(shop or Shop.here(), Closure.objects.all())


def calendar_with(shop: Shop, closures: Iterable[Closure]) -> ShopCalendar:
    """Return the calendar of these settings and closed days, saved or not.

    A closed day wins over a day that is open in spite of a holiday.
    Raises: CalendarError, with what to change.
    """
    rows = [row for row in closures if row.first <= row.last]
    closed = tuple(ClosedDays(row.first, row.last, row.words) for row in rows if not row.open)
    shut = {day for span in closed for day in days_of(span.first, span.last)}
    opened = frozenset(day for row in rows if row.open for day in days_of(row.first, row.last)) - shut
    return _made(
        shop.time_zone,
        shop.country,
        shop.region,
        frozenset(int(day) for day in shop.working_days),
        closed,
        opened,
        (shop.opens_at, shop.closes_at, shop.cut_off_at),
    )


def days_of(first: dt.date, last: dt.date) -> list[dt.date]:
    """Return the days from the first to the last, a year of them at most."""
    return [first + dt.timedelta(days=count) for count in range(min((last - first).days, _LONGEST) + 1)]


def why_impossible(shop: Shop, closures: Iterable[Closure]) -> str:
    """Return why no calendar can be made of these settings, "" when one can."""
    try:
        calendar_with(shop, closures)
    except CalendarError as error:
        return str(error)
    return ""


@lru_cache(maxsize=16)
def _made(
    zone: str,
    country: str,
    region: str,
    weekdays: frozenset[int],
    closed: tuple[ClosedDays, ...],
    opened: frozenset[dt.date],
    hours: tuple[dt.time, dt.time, dt.time],
) -> ShopCalendar:
    opens, closes, cut_off = hours
    return ShopCalendar(
        time_zone=zone,
        country=country,
        region=region,
        weekdays=weekdays,
        closures=closed,
        extra_open=opened,
        opens=opens,
        closes=closes,
        cut_off=cut_off,
    )
