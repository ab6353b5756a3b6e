"""The axis of the plan: working minutes of the shop, with a short gap for every night, and back to moments."""

from __future__ import annotations

import bisect
import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from flueproof.promise.schedule.model import PlanError, Window

NIGHT = 5
"""Minutes a closed time takes on the axis: enough to keep steps from crossing it, too few to count as lateness."""


@dataclass(frozen=True, slots=True)
class Axis:
    """Opening hours as moments and the same hours as minutes. Made by `axis_from`."""

    moments: tuple[tuple[dt.datetime, dt.datetime], ...]
    open: tuple[Window, ...]

    def minute(self, moment: dt.datetime) -> int:
        """Return the minute of a moment; a moment in a closed time is the opening after it, one past the end the end.

        A moment before the axis counts back from its beginning in plain minutes (work that runs already).
        """
        first = self.moments[0][0]
        if moment < first:
            return -int((first - moment).total_seconds() // 60)
        which = bisect.bisect_right(self.moments, moment, key=lambda window: window[1])
        if which == len(self.moments):
            return self.open[-1][1]
        opens, start = self.moments[which][0], self.open[which][0]
        return start + max(0, int((moment - opens).total_seconds() // 60))

    def due(self, moment: dt.datetime) -> int:
        """Return the minute for a promise: a moment in a closed time is the closing before it."""
        which = bisect.bisect_right(self.moments, moment, key=lambda window: window[0]) - 1
        if which < 0:
            return -int((self.moments[0][0] - moment).total_seconds() // 60)
        start, end = self.open[which]
        return min(end, start + int((moment - self.moments[which][0]).total_seconds() // 60))

    def moment(self, minute: int) -> dt.datetime:
        """Return the moment of a minute; a minute in a gap is the closing before it."""
        if minute < self.open[0][0]:
            return self.moments[0][0] - dt.timedelta(minutes=self.open[0][0] - minute)
        which = bisect.bisect_right(self.open, minute, key=lambda window: window[0]) - 1
        start, end = self.open[which]
        return self.moments[which][0] + dt.timedelta(minutes=min(minute, end) - start)

    def windows(self, spans: Iterable[tuple[dt.datetime, dt.datetime]]) -> tuple[Window, ...]:
        """Return the parts of spans of time (somebody's hours, a day off) that lie in opening hours, as minutes."""
        found = []
        for begin, finish in spans:
            for (opens, closes), (start, _) in zip(self.moments, self.open, strict=True):
                first, last = max(begin, opens), min(finish, closes)
                if first < last:
                    found.append((start + _minutes(first - opens), start + _minutes(last - opens)))
        return tuple(sorted(found))


def axis_from(open_hours: Iterable[tuple[dt.datetime, dt.datetime]], now: dt.datetime) -> Axis:
    """Return the axis that begins now, from the opening hours of the coming weeks (aware moments, in order).

    Minute 0 is now, or the next opening. Lengths are taken in UTC, so a day on which the clock changes is as long as it
    truly is. Raises PlanError where no hours are left or moments carry no time zone.
    """
    moments, minutes, at = [], [], 0
    for opens, closes in open_hours:
        if opens.tzinfo is None or closes.tzinfo is None:
            raise PlanError(f"The opening hours from {opens} carry no time zone: hand over aware moments.")
        first, last = max(opens, now).astimezone(dt.UTC), closes.astimezone(dt.UTC)
        if first >= last:
            continue
        moments.append((first, last))
        minutes.append((at, at + _minutes(last - first)))
        at = minutes[-1][1] + NIGHT
    if not moments:
        raise PlanError("No opening hours are left to plan in: hand over the hours of the coming weeks.")
    return Axis(tuple(moments), tuple(minutes))


def _minutes(span: dt.timedelta) -> int:
    return int(span.total_seconds() // 60)
