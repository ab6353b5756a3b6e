"""Broken promises: a new day agreed after one was broken is kept as such, and the first stays broken for ever."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.clock.events import PromiseGiven
from flueproof.promise.clock.promise_clock import promise_state
from flueproof.promise.clock.promise_state import PromiseState
from flueproof.shop.records.models import ClockEvent, Job, Person
from flueproof.shop.records.promises.events import events_of
from flueproof.shop.records.promises.terms import terms_of

INSTEAD: Final = "instead_of"
"""In the terms of a promise: the day that was broken when this one was agreed."""


@dataclass(frozen=True, slots=True)
class ToldAgain:
    """A new day that was agreed after one was broken: the broken day, the new one, when, by whom, in what words."""

    broken: dt.date
    day: dt.date
    at: dt.datetime
    by: Person | None
    words: str


def told_again(rows: Iterable[ClockEvent]) -> list[ToldAgain]:
    """Return the new days that were agreed after a broken one, in the order in which they were."""
    return [
        ToldAgain(dt.date.fromisoformat(row.terms[INSTEAD]), row.day, row.recorded_at, row.by, row.words)
        for row in rows
        if row.kind == "promised" and row.day is not None and row.terms.get(INSTEAD)
    ]


def times_broken(rows: Iterable[ClockEvent], state: PromiseState) -> int:
    """Return how often a promise of a job was broken: each that a new day was agreed for, and the one of now."""
    again = sum(1 for row in rows if row.kind == "promised" and row.terms.get(INSTEAD))
    return again + state.is_late


def first_promise(job: Job, rows: Sequence[ClockEvent], calendar: ShopCalendar, now: dt.datetime) -> PromiseState:
    """Return where the promise would stand had no other day been told after the first one.

    What moved the first day (stops, a longer service) moves it here too; a day that was agreed later does not.
    """
    events, given = [], False
    for event in events_of(rows):
        if isinstance(event, PromiseGiven) and given:
            continue
        given = given or isinstance(event, PromiseGiven)
        events.append(event)
    return promise_state(events, terms_of(job, rows), calendar, now)
