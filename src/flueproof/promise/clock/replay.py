"""The life of a job told again, event by event: when it started, stopped, was promised and ended."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime

from flueproof.promise.clock.events import (
    BoxArrived,
    Delivered,
    Dropped,
    Event,
    NoLongerReady,
    PaperworkComplete,
    PaperworkIncomplete,
    PromiseGiven,
    Ready,
    ServiceChanged,
)
from flueproof.promise.clock.stops import StopBook
from flueproof.promise.clock.terms import Terms


@dataclass
class Life:
    """What the events say, without any counting.

    most_days: the most business days that any service since the start (or the first given promise) had [d].
    days_when_given: that number when the last promise was given [d].
    """

    terms: Terms
    service: str
    arrived: bool = False
    paperwork_complete: bool = False
    missing: str = ""
    started_at: datetime | None = None
    ready_at: datetime | None = None
    delivered_at: datetime | None = None
    dropped_at: datetime | None = None
    most_days: int | None = None
    given: PromiseGiven | None = None
    days_when_given: int = 0
    book: StopBook = field(default_factory=StopBook)

    @property
    def ended_at(self) -> datetime | None:
        """When the promise was fulfilled, or nothing was owed any more."""
        ends = [self.delivered_at, self.dropped_at, self.ready_at if self.terms.means == "ready" else None]
        return min((end for end in ends if end is not None), key=lambda end: end.timestamp(), default=None)

    def note(self, event: Event) -> None:
        """Take in one event; the events come in time order."""
        self.book.note(event, started=self.started_at is not None)
        self._note_coming(event)
        self._note_promise(event)
        self._note_going(event)
        if self.started_at is None and self.arrived and self.paperwork_complete:
            self.started_at = event.at
            self._count_service()

    def _note_coming(self, event: Event) -> None:
        if isinstance(event, BoxArrived):
            self.arrived = True
        elif isinstance(event, PaperworkComplete):
            self.paperwork_complete, self.missing = True, ""
        elif isinstance(event, PaperworkIncomplete):
            self.paperwork_complete, self.missing = False, event.missing

    def _note_promise(self, event: Event) -> None:
        if isinstance(event, ServiceChanged):
            self.service = event.service
            self._count_service()
        elif isinstance(event, PromiseGiven):
            self.given = event
            self._count_service(begin=True)
            self.days_when_given = self.most_days or 0

    def _note_going(self, event: Event) -> None:
        if isinstance(event, Ready):
            self.ready_at = self.ready_at or event.at
        elif isinstance(event, NoLongerReady):
            self.ready_at = None
        elif isinstance(event, Delivered):
            self.delivered_at = self.delivered_at or event.at
        elif isinstance(event, Dropped):
            self.dropped_at = self.dropped_at or event.at

    def _count_service(self, *, begin: bool = False) -> None:
        days = self.terms.business_days(self.service)
        if begin or self.started_at is not None or self.given is not None:
            self.most_days = max(self.most_days or 0, days)


def life_of(events: Iterable[Event], terms: Terms) -> Life:
    """Return what the events, in time order, say. Raises: BadTermsError for a service without days."""
    told = list(events)
    changes = [event for event in told if isinstance(event, ServiceChanged)]
    life = Life(terms, changes[0].before if changes and changes[0].before else terms.service)
    for event in told:
        life.note(event)
    return life
