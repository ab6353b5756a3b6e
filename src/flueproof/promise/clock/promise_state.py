"""Where a promise stands at one moment: plain values, worked out by `promise_clock.promise_state`."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from flueproof.promise.clock.stops import Stop


@dataclass(frozen=True)
class PromiseState:
    """The state of one promise, as of `now`. Days are dates in the shop's time zone.

    status: "not-started", "running", "standing", "done" or "dropped". means: "ready" or "delivered".
    started_at: when box and paperwork were complete; day_zero: the day that moment counts from.
    promised_on: the day owed, None before the clock starts and no day was given. given_on: the day last told to the
    owner, None if none. counted_on: the day that terms and calendar of today would give from scratch.
    ready_by: last business day to get it ready; deadline: closing moment of that day.
    stops: all, in order; moved_days: whole business days [d] by which they moved the promise; carried: what stood
    beyond them (negative: a part day that was counted whole) [d].
    used, left: business days [d] since day 0 without those stopped, and from today to the promised day. late_by:
    business days [d] past it, 0 while it is kept. While the clock stands, as of when it stopped; once the promise has
    ended, as of the end.
    ready_at, ended_at: when it became ready, and when the promise was fulfilled or dropped.
    missing: what holds up the start, in words. risks: what endangers the promise though it stays, in sentences.
    notices: events that were not counted, in sentences. needs_giving: the day owed has no given promise yet, so that
    a later change of calendar or terms could still move it.
    """

    status: str
    means: str
    now: datetime
    started_at: datetime | None
    day_zero: date | None
    promised_on: date | None
    given_on: date | None
    counted_on: date | None
    ready_by: date | None
    deadline: datetime | None
    stops: tuple[Stop, ...]
    moved_days: int
    carried: Fraction
    used: int
    left: int | None
    late_by: int
    ready_at: datetime | None
    ended_at: datetime | None
    missing: tuple[str, ...]
    risks: tuple[str, ...]
    notices: tuple[str, ...]
    needs_giving: bool

    @property
    def stands(self) -> bool:
        """Return True while the clock is stopped."""
        return self.status == "standing"

    @property
    def is_late(self) -> bool:
        """Return True once the promised day is over and it was not kept."""
        return self.late_by > 0

    @property
    def standing(self) -> tuple[Stop, ...]:
        """The stops that stand now, the longest first."""
        return tuple(stop for stop in self.stops if stop.until is None) if self.stands else ()
