"""Moments from the clock on the wall, on the days when that clock is changed too."""

from __future__ import annotations

import functools
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo, available_timezones

from flueproof.promise.calendar.errors import BadCalendarError, NaiveMomentError


@functools.cache
def zone_named(name: str) -> ZoneInfo:
    """Return the time zone of an IANA name such as `America/New_York`.

    Raises: BadCalendarError.
    """
    if name not in available_timezones():
        raise BadCalendarError(f"time zone “{name}” is not known; write it like America/New_York or Europe/Berlin")
    return ZoneInfo(name)


def local(moment: datetime, zone: ZoneInfo) -> datetime:
    """Return the moment as the clock on the shop's wall shows it.

    Raises: NaiveMomentError.
    """
    if moment.utcoffset() is None:
        raise NaiveMomentError(f"the moment {moment.isoformat()} has no time zone, so its day is not known")
    return moment.astimezone(zone)


def moment_of(day: date, at: time, zone: ZoneInfo, *, later: bool) -> datetime:
    """Return the moment when the wall clock shows `at` on `day`.

    An hour that is missing (clock put forward): the moment of the change, for then the hour is over.
    An hour that comes twice (clock put back): the later one if `later`, else the first.
    """
    first = datetime.combine(day, at.replace(tzinfo=None, fold=0), tzinfo=zone)
    second = first.replace(fold=1)
    if first.utcoffset() == second.utcoffset():
        return first
    if first.astimezone(UTC).astimezone(zone).replace(tzinfo=None) == first.replace(tzinfo=None):
        return second if later else first
    return _change_between(second.astimezone(UTC), first.astimezone(UTC), zone)


def _change_between(before: datetime, after: datetime, zone: ZoneInfo) -> datetime:
    """Return the first second after `before` that has the offset of `after`."""
    wanted = after.astimezone(zone).utcoffset()
    low, high = 0, int((after - before).total_seconds())
    while high - low > 1:
        middle = (low + high) // 2
        if (before + timedelta(seconds=middle)).astimezone(zone).utcoffset() == wanted:
            high = middle
        else:
            low = middle
    return (before + timedelta(seconds=high)).astimezone(zone)
