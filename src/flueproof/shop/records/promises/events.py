"""The kept rows of a job's clock, as the events that the promise clock of the core counts with."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from typing import Final

from flueproof.promise.clock.events import (
    REASONS,
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
    Stopped,
    WentOn,
)
from flueproof.shop.records.models import ClockEvent, Job

NOT_READY: Final = "ready"
"""The cause of a row `went-on` that says: it was not ready after all."""
HERE_ON: Final = "here_on"
"""In the terms of a promise: the day on which the box was said to be here."""
_PAPERWORK: Final = {"paperwork-complete", "paperwork-incomplete"}


def life_rows(job: Job) -> list[ClockEvent]:
    """Return the rows of the present life of a job: one that was dropped and taken up again begins anew."""
    rows: list[ClockEvent] = list(job.clock_events.all())
    ends = [place for place, row in enumerate(rows) if row.kind == "called-off"]
    if ends and (job.state != "dropped" or ends[-1] != len(rows) - 1):
        return rows[ends[-1] + 1 :]
    return rows[ends[-2] + 1 :] if len(ends) > 1 else rows


def events_of(rows: Iterable[ClockEvent]) -> list[Event]:
    """Return the events of the core, in the order in which they were recorded."""
    return [_event(row) for row in rows]


def expected_on(rows: Iterable[ClockEvent]) -> dt.date | None:
    """Return the day on which a box that is not here was said to come, None where nothing was said with a promise."""
    last = next((row for row in reversed(list(rows)) if row.kind == "promised"), None)
    told = last.terms.get(HERE_ON) if last else None
    return dt.date.fromisoformat(told) if told else None


def open_causes(rows: Iterable[ClockEvent]) -> set[str]:
    """Return the causes for which the clock stands after these rows."""
    found: set[str] = set()
    for row in sorted(rows, key=lambda one: one.at):
        if row.kind == "stopped":
            found.add(row.cause)
        elif row.kind == "paperwork-complete":
            found.discard("paperwork")
        elif row.kind == "went-on" and row.cause != NOT_READY:
            found = found - {row.cause} if row.cause else set()
    return found


def said_already(rows: Sequence[ClockEvent], kind: str, cause: str, words: str, day: dt.date | None) -> bool:
    """Return True when a row of this kind would say nothing new."""
    if kind == "stopped":
        return cause in open_causes(rows)
    if kind == "went-on" and cause != NOT_READY:
        return not (open_causes(rows) & {cause} if cause else open_causes(rows))
    if kind in {"ready", "went-on"}:
        said = [row.kind for row in rows if row.kind == "ready" or (row.kind, row.cause) == ("went-on", NOT_READY)]
        return (said[-1] == kind) if said else kind == "went-on"
    if kind in _PAPERWORK:
        last = next((row for row in reversed(rows) if row.kind in _PAPERWORK), None)
        return last is not None and (last.kind, last.words) == (kind, words)
    if kind == "promised":
        last = next((row for row in reversed(rows) if row.kind == "promised"), None)
        return last is not None and last.day == day and rows[-1] is last
    return kind != "service" and any(row.kind == kind for row in rows)


def cause_of(cause: str) -> str:
    """Return a reason that the clock knows; what it does not know is "other"."""
    return cause if cause in REASONS else "other"


def _event(row: ClockEvent) -> Event:
    at = row.at
    match row.kind:
        case "arrived":
            return BoxArrived(at)
        case "paperwork-complete":
            return PaperworkComplete(at)
        case "paperwork-incomplete":
            return PaperworkIncomplete(at, row.words)
        case "stopped":
            return Stopped(at, cause_of(row.cause), row.words)
        case "went-on":
            return NoLongerReady(at) if row.cause == NOT_READY else WentOn(at, cause_of(row.cause) if row.cause else "")
        case "service":
            return ServiceChanged(at, row.terms["service"], row.terms.get("before", ""))
        case "promised":
            counted = row.terms.get("counted")
            return PromiseGiven(at, row.day or at.date(), dt.date.fromisoformat(counted) if counted else None)
        case "ready":
            return Ready(at)
        case "delivered":
            return Delivered(at)
        case _:
            return Dropped(at)
