"""Shelf life: cells age from the day they were made, fitted or not."""

from __future__ import annotations

import calendar
import datetime as dt
from typing import Final

from flueproof.parts.errors import UnusableNumberError

DAYS_IN_MONTH: Final = 365.25 / 12
SOON_DAYS: Final = 60


def months_after(day: dt.date, months: int) -> dt.date:
    """Return the same day some months later, the last of the month where that month is shorter.

    months: whole months [-], negative for earlier. Raises: UnusableNumberError beyond the years 1 to 9999.
    Source: common practice, no source.
    """
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    if not dt.MINYEAR <= year <= dt.MAXYEAR:
        raise UnusableNumberError(f"{months} months from {day} is no year between 1 and 9999")
    return dt.date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))


def last_good_day(made: dt.date | None, shelf_months: int | None, printed: dt.date | None = None) -> dt.date | None:
    """Return the last day on which a lot may be fitted; None where nothing limits it.

    made: day of manufacture; shelf_months: how long the kind keeps from that day [months], None for no limit;
    printed: the day on the package. The earlier of both counts, since neither may be passed.
    Raises: UnusableNumberError for a shelf life below one month. Source: common practice, no source.
    """
    if shelf_months is not None and shelf_months < 1:
        raise UnusableNumberError(f"a shelf life of {shelf_months} months keeps nothing")
    from_made = None if made is None or shelf_months is None else months_after(made, shelf_months)
    days = [day for day in (from_made, printed) if day is not None]
    return min(days) if days else None


def age_months(made: dt.date, day: dt.date) -> float:
    """Return the age from manufacture [months of 365.25 / 12 days], 0 on the day itself or before.

    Source: own rule (cells age from manufacture, not from fitting: common practice, no source).
    """
    return max((day - made).days, 0) / DAYS_IN_MONTH


def age_in_words(made: dt.date, day: dt.date) -> str:
    """Return an age as a person says it: "18 days old", "7 months old", "2 years 3 months old"."""
    days = max((day - made).days, 0)
    if days < 2 * DAYS_IN_MONTH:
        return f"{days} day{'s' if days != 1 else ''} old"
    months = int(age_months(made, day))
    if months < 24:
        return f"{months} months old"
    years, rest = divmod(months, 12)
    return f"{years} years{f' {rest} month' if rest else ''}{'s' if rest > 1 else ''} old"
