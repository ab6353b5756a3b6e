"""Days and moments with the month as a word, so that 2/4 is never read two ways."""

from __future__ import annotations

import datetime as dt
from typing import Final

from django.utils import timezone

MONTHS: Final = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def day_of(value: dt.date | dt.datetime) -> dt.date:
    """Return the day: a date-only value as it is, a moment's day in the shop's time zone."""
    if isinstance(value, dt.datetime):
        return (timezone.localtime(value) if timezone.is_aware(value) else value).date()
    return value


def day_text(value: dt.date | dt.datetime, *, short: bool = False) -> str:
    """Return "25 November 2026", or "25 Nov 2026" when short."""
    day = day_of(value)
    month = MONTHS[day.month - 1]
    return f"{day.day}\u00a0{month[:3] if short else month}\u00a0{day.year}"


def moment_text(value: dt.datetime, *, short: bool = False) -> str:
    """Return "25 November 2026, 14:05" in the shop's time zone (24 hours)."""
    local = timezone.localtime(value) if timezone.is_aware(value) else value
    return f"{day_text(local, short=short)}, {local:%H:%M}"
