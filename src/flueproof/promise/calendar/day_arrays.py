"""Business days of a shop calendar for whole arrays of days, by numpy."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from flueproof.promise.calendar.errors import OutsideCalendarError
from flueproof.promise.calendar.shop_calendar import ShopCalendar

Days = NDArray[np.datetime64]


def numpy_calendar(calendar: ShopCalendar, first_year: int, last_year: int) -> np.busdaycalendar:
    """Return numpy's calendar that knows every closed day, weekends too, of these years (both included).

    The week mask is all ones, because an extra open Saturday cannot be said with a mask.
    Raises: OutsideCalendarError.
    """
    closed = [day for year in range(first_year, last_year + 1) for day in calendar.closed_days(year)]
    return np.busdaycalendar("1111111", np.asarray(closed, dtype="datetime64[D]"))


def are_business_days(calendar: ShopCalendar, days: Days) -> NDArray[np.bool_]:
    """Return for each day whether the shop works on it, same shape. Raises: OutsideCalendarError."""
    if days.size == 0:
        return np.zeros(days.shape, dtype=np.bool_)
    return np.asarray(np.is_busday(days, busdaycal=numpy_calendar(calendar, *_years(days))))


def add_business_days(calendar: ShopCalendar, days: Days, n: NDArray[np.int64] | int) -> Days:
    """Return for each day the n-th business day after it, as `ShopCalendar.add_business_days` does; shapes broadcast.

    n: all of one sign, because a closed day rolls forward for n >= 0 and back for n < 0.
    Raises: OutsideCalendarError, ValueError.
    """
    counts = np.asarray(n, dtype=np.int64)
    if days.size == 0 or counts.size == 0:
        return np.broadcast_to(days, np.broadcast_shapes(days.shape, counts.shape)).copy()
    if counts.min() < 0 <= counts.max():
        raise ValueError("n has both signs: ask twice, once forward and once back")
    first, last = _years(days)
    while True:
        reached = numpy_calendar(calendar, first, last)
        if counts.min() < 0:
            found = np.asarray(np.busday_offset(days, counts, roll="backward", busdaycal=reached))
        else:
            found = np.asarray(np.busday_offset(days, counts, roll="forward", busdaycal=reached))
        low, high = _years(found)
        if first <= low and high <= last:
            return found
        first, last = min(first, low), max(last, high)


def business_days_between(calendar: ShopCalendar, first: Days, last: Days) -> NDArray[np.int64]:
    """Return for each pair how many business days come after `first`, up to and with `last`; negative if earlier.

    Raises: OutsideCalendarError.
    """
    if first.size == 0 or last.size == 0:
        return np.zeros(np.broadcast_shapes(first.shape, last.shape), dtype=np.int64)
    years = [*_years(first), *_years(last)]
    reached = numpy_calendar(calendar, min(years), max(years))
    low, high = np.minimum(first, last), np.maximum(first, last)
    counts = np.busday_count(low + np.timedelta64(1, "D"), high + np.timedelta64(1, "D"), busdaycal=reached)
    return np.asarray(np.where(last < first, -counts, counts), dtype=np.int64)


def _years(days: Days) -> tuple[int, int]:
    years = days.astype("datetime64[Y]").astype(np.int64) + 1970
    if np.isnat(days).any():
        raise OutsideCalendarError("a day is missing (not a time)")
    return int(years.min()), int(years.max())
