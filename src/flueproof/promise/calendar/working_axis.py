"""Working time as one axis without gaps: a plan counts minutes on it and is put back on the wall clock at the end."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from flueproof.promise.calendar.errors import OutsideCalendarError
from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.calendar.working_time import open_spans


class WorkingAxis:
    """Minutes of working time since a moment, for the days up to `last`; quick for thousands of questions."""

    def __init__(self, calendar: ShopCalendar, start: datetime, last: date) -> None:
        """Lay out the spans from start to the closing of the last day. Raises: OutsideCalendarError."""
        self.calendar = calendar
        first, self.start = calendar.today(start), start.astimezone(UTC)
        laid = open_spans(calendar, first, last)
        found = [(max(opens, self.start), closes) for opens, closes in laid]
        self.spans = [(opens, closes) for opens, closes in found if closes > opens]
        if not self.spans:
            raise OutsideCalendarError(f"no working time from {start.isoformat()} to {last}: take a later last day")
        lengths = [(closes - opens) / timedelta(minutes=1) for opens, closes in self.spans]
        self._opens = np.asarray([opens.timestamp() for opens, _ in self.spans])
        self.ends: NDArray[np.float64] = np.cumsum(lengths)
        self._begins = self.ends - np.asarray(lengths)

    @property
    def length(self) -> float:
        """All working time of the axis [min]."""
        return float(self.ends[-1])

    def minute_of(self, moment: datetime) -> float:
        """Return how many minutes [min] have been worked by the moment: 0 before the start, `length` after the end."""
        seconds = moment.astimezone(UTC).timestamp()
        place = int(np.searchsorted(self._opens, seconds, side="right")) - 1
        if place < 0:
            return 0.0
        return min(float(self._begins[place]) + (seconds - float(self._opens[place])) / 60.0, float(self.ends[place]))

    def end_at(self, minute: float) -> datetime:
        """Return when work ends that reaches this minute: at closing time rather than the next opening.

        minute: [min], 0 to `length`. Raises: OutsideCalendarError.
        """
        return self._moment(minute, int(np.searchsorted(self.ends, minute, side="left")))

    def begin_at(self, minute: float) -> datetime:
        """Return when work begins that starts at this minute: at the next opening rather than at closing time.

        minute: [min], 0 to below `length`. Raises: OutsideCalendarError.
        """
        return self._moment(minute, int(np.searchsorted(self.ends, minute, side="right")))

    def _moment(self, minute: float, place: int) -> datetime:
        if minute < 0 or place >= len(self.spans):
            raise OutsideCalendarError(f"minute {minute} is not on this axis of {self.length:g} minutes")
        opens, _ = self.spans[place]
        return (opens + timedelta(minutes=minute - float(self._begins[place]))).astimezone(self.calendar.zone)
