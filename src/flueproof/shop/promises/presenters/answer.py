"""Answers to the questions on the phone, in words that can be read out."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.clock.wording import moment_in_words
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.questions import Answered, Away, Delayed


@dataclass(frozen=True, slots=True)
class DelayLine:
    """One job that would be later."""

    number: str
    who: str
    later: str
    ends: str
    promised: str
    breaks: bool
    late: bool


@dataclass(frozen=True, slots=True)
class AnswerLine:
    """The answer: a word (yes, only by breaking ..., no), a sentence, what it costs, and the names that break."""

    word: str
    sentence: str
    cost: str
    delays: list[DelayLine]
    may_take: bool
    new_job: bool

    @property
    def breaks(self) -> list[DelayLine]:
        """The jobs whose promise breaks."""
        return [one for one in self.delays if one.breaks]


def answer_of(answer: Answered) -> AnswerLine:
    """Return the answer to "can it be done by then?" in words."""
    calendar = answer.bench.calendar
    delays = delay_lines(answer.later, calendar)
    breaks = sum(one.breaks for one in answer.later)
    word = {"yes": "Yes", "costs promises": f"Only by breaking {_promises(breaks)}", "no": "No"}[answer.verdict]
    ends = moment_in_words(answer.ends, calendar)
    said = {
        "yes": f"It would be done {ends}, and every promise that is kept now stays kept.",
        "costs promises": f"It would be done {ends}.",
        "no": f"Not by then at any price: the first it can be done is {moment_in_words(answer.soonest, calendar)}.",
    }[answer.verdict]
    return AnswerLine(
        word,
        f"{said} {_earliest(answer, calendar)}".strip(),
        _cost(answer.later) if answer.verdict != "no" or answer.later else "",
        delays,
        answer.verdict != "no",
        answer.job is None,
    )


def away_of(away: Away) -> AnswerLine:
    """Return what it means that somebody is away, in words."""
    more = away.broken_after - away.broken_before
    word = f"{_promises(more)} would break" if more > 0 else "No promise breaks by it"
    sentence = f"Without {away.who}, {_promises(away.broken_after)} would be broken; now it is {away.broken_before}."
    return AnswerLine(
        word[:1].upper() + word[1:], sentence, _cost(away.later), delay_lines(away.later, shop_calendar()), False, False
    )


def delay_lines(later: Sequence[Delayed], calendar: ShopCalendar) -> list[DelayLine]:
    """Return the jobs that would be later, in words."""
    return [
        DelayLine(
            one.number,
            one.who,
            _minutes(one.minutes),
            moment_in_words(one.ends, calendar),
            "" if one.promised is None else moment_in_words(one.promised, calendar),
            one.breaks,
            one.late,
        )
        for one in later
    ]


def _earliest(answer: Answered, calendar: ShopCalendar) -> str:
    if answer.verdict == "yes":
        return ""
    if answer.earliest is None:
        return "In no plan that was tried does it fit without breaking a promise."
    return f"Without breaking any promise: {moment_in_words(answer.earliest, calendar)}."


def _cost(later: Sequence[Delayed]) -> str:
    if not later:
        return "It costs the others nothing."
    total = sum(one.minutes for one in later)
    jobs = "one other job is" if len(later) == 1 else f"{len(later)} other jobs are"
    return f"What it costs: {jobs} done later, {_minutes(total)} of working time together."


def _promises(count: int) -> str:
    return "one promise" if count == 1 else f"{count} promises"


def _minutes(minutes: int) -> str:
    hours, rest = divmod(minutes, 60)
    return f"{rest} min" if not hours else f"{hours} h {rest:02} min"


def moment_of_day(day: dt.date, calendar: ShopCalendar) -> dt.datetime:
    """Return when work ends on a day."""
    return calendar.closing_moment(day)
