"""What can happen to a job that matters to its promise. Facts with their moment; the clock is worked out from them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime

from flueproof.promise.clock.errors import BadEventError

REASONS = {
    "owner": ("waiting for you", "waiting for the owner"),
    "quote": ("waiting for your yes to the quote", "waiting for the owner's yes to the quote"),
    "paperwork": ("waiting for your paperwork", "waiting for the owner's paperwork"),
    "payment": ("waiting for your payment", "waiting for the owner's payment"),
    "parts": ("waiting for parts", "waiting for parts"),
    "other-shop": ("at another shop", "at another shop"),
    "other": ("stopped", "stopped"),
}
"""Reasons that stop the clock, in the words for the owner and for the bench. The shop's own delay is none of them."""


@dataclass(frozen=True)
class Event:
    """Something that happened at an aware moment."""

    at: datetime

    def __post_init__(self) -> None:
        if self.at.utcoffset() is None:
            raise BadEventError(f"{type(self).__name__} at {self.at.isoformat()} has no time zone")

    @property
    def moment(self) -> datetime:
        """The moment in UTC, where moments compare and subtract rightly."""
        return self.at.astimezone(UTC)


@dataclass(frozen=True)
class BoxArrived(Event):
    """The box is here."""


@dataclass(frozen=True)
class PaperworkComplete(Event):
    """Nothing is missing to begin."""


@dataclass(frozen=True)
class PaperworkIncomplete(Event):
    """Something is missing, in words; before the start it holds the start up, afterwards it stops the clock."""

    missing: str = ""


@dataclass(frozen=True)
class Stopped(Event):
    """The job waits for somebody or something outside the shop: a key of REASONS, and what for in words."""

    why: str = "owner"
    words: str = ""

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.why not in REASONS:
            raise BadEventError(f"“{self.why}” is no reason that stops the clock; possible: {', '.join(REASONS)}")


@dataclass(frozen=True)
class WentOn(Event):
    """What the job waited for is here: the stop of that reason ends; without a reason, every stop."""

    why: str = ""

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.why and self.why not in REASONS:
            raise BadEventError(f"“{self.why}” is no reason that stops the clock; possible: {', '.join(REASONS)}")


@dataclass(frozen=True)
class ServiceChanged(Event):
    """Another service than before was agreed. `before`: the service until then, "" if it is the one of the terms."""

    service: str = ""
    before: str = ""


@dataclass(frozen=True)
class PromiseGiven(Event):
    """The owner was told this day. `counted`: the day that the clock itself had counted then, if it was another."""

    day: date = date.min
    counted: date | None = None

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.day == date.min:
            raise BadEventError("a promise was given without a day")


@dataclass(frozen=True)
class Ready(Event):
    """The analyzer is ready to ship."""


@dataclass(frozen=True)
class NoLongerReady(Event):
    """Something was found after all: the clock runs as if the analyzer had never been ready."""


@dataclass(frozen=True)
class Delivered(Event):
    """The owner has it back, shipped or fetched."""


@dataclass(frozen=True)
class Dropped(Event):
    """Nothing is owed any more: withdrawn, declined, lost."""


def in_order(events: Iterable[Event], now: datetime) -> tuple[list[Event], list[Event]]:
    """Return (what has happened by now, what is dated later), each in time order; equal moments keep their order.

    Raises: BadEventError if `now` has no time zone.
    """
    if now.utcoffset() is None:
        raise BadEventError(f"now {now.isoformat()} has no time zone")
    ordered = sorted(events, key=lambda event: event.moment)
    until = now.astimezone(UTC)
    return [one for one in ordered if one.moment <= until], [one for one in ordered if one.moment > until]
