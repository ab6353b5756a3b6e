"""The promise in one plain sentence, the same day for the bench and for the owner; only who "you" is differs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime

from flueproof.promise.calendar.shop_calendar import DAY_NAMES, ShopCalendar
from flueproof.promise.clock.events import REASONS, Event, WentOn
from flueproof.promise.clock.promise_state import PromiseState
from flueproof.promise.clock.stops import Stop
from flueproof.promise.clock.terms import MEANINGS

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def day_in_words(day: date) -> str:
    """Return `Thursday 3 December 2026`, whatever the machine's language."""
    return f"{DAY_NAMES[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"


def moment_in_words(moment: datetime, calendar: ShopCalendar) -> str:
    """Return `Thursday 3 December 2026, 10:05` by the shop's wall clock."""
    there = moment.astimezone(calendar.zone)
    return f"{day_in_words(there.date())}, {there:%H:%M}"


def days_in_words(days: int) -> str:
    """Return `1 business day`, `3 business days`."""
    return f"{days} business day{'' if days == 1 else 's'}"


def promise_in_words(state: PromiseState, calendar: ShopCalendar, reader: str = "bench") -> str:
    """Return the promise in one sentence. reader: "owner" (who is addressed as you) or "bench"."""
    if state.status == "dropped":
        return "Nothing is owed any more: the job was dropped."
    if state.promised_on is None:
        return _without_promise(state, calendar)
    said = f"Promised for {day_in_words(state.promised_on)}, {MEANINGS[state.means]}"
    if state.status == "not-started":
        return f"{said}; the clock starts when these are here: {_list(state.missing)}."
    if state.status == "done":
        return f"{said}: {_end(state, calendar)}."
    if state.stands:
        stops = " and ".join(stop_in_words(stop, calendar, reader) for stop in state.standing)
        return _ended(f"{said}{_if_it_goes_on(state, calendar)}; stopped {stops}")
    if state.is_late:
        return f"{said}; late by {days_in_words(state.late_by)}."
    return f"{said}: {_left(state)}."


def stop_in_words(stop: Stop, calendar: ShopCalendar, reader: str = "bench") -> str:
    """Return `since Tuesday 1 December 2026, 10:00, waiting for you: your yes to the new hose`."""
    reason = REASONS[stop.why][0 if reader == "owner" else 1]
    return f"since {moment_in_words(stop.since, calendar)}, {reason}" + (f": {stop.words}" if stop.words else "")


def events_not_counted(later: Sequence[Event], stray: Iterable[WentOn], calendar: ShopCalendar) -> list[str]:
    """Return a sentence for what is dated in the future and for each end of a stop that never began."""
    found = []
    if later:
        events = "1 event is" if len(later) == 1 else f"{len(later)} events are"
        found.append(
            f"{events} dated in the future, from {moment_in_words(later[0].at, calendar)}, and not counted yet."
        )
    for event in stray:
        what = f" ({REASONS[event.why][1]})" if event.why else ""
        found.append(f"It went on at {moment_in_words(event.at, calendar)}{what}, but nothing was stopped then.")
    return found


def _without_promise(state: PromiseState, calendar: ShopCalendar) -> str:
    if state.ended_at is not None:
        return f"No day was promised; done {moment_in_words(state.ended_at, calendar)}."
    return f"No day is promised yet: the clock starts when these are here: {_list(state.missing)}."


def _end(state: PromiseState, calendar: ShopCalendar) -> str:
    done = "ready" if state.means == "ready" and state.ready_at == state.ended_at else "delivered"
    when = "" if state.ended_at is None else f" {day_in_words(calendar.today(state.ended_at))}"
    return f"{done}{when}, " + (f"late by {days_in_words(state.late_by)}" if state.is_late else "kept")


def _if_it_goes_on(state: PromiseState, calendar: ShopCalendar) -> str:
    if state.is_late:
        return f"; late by {days_in_words(state.late_by)}"
    over = state.promised_on is not None and state.promised_on < calendar.today(state.now)
    return "" if over else ", if it goes on today"


def _left(state: PromiseState) -> str:
    if state.left:
        return f"{days_in_words(state.left)} left"
    return "due today"


def _ended(sentence: str) -> str:
    """Return a sentence with its full stop, where it does not end with somebody's own question or full stop."""
    return sentence if sentence.endswith((".", "?", "!")) else f"{sentence}."


def _list(words: Sequence[str]) -> str:
    return ", ".join(words) or "box and paperwork"
