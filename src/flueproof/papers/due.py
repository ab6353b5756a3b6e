"""The due date an owner asked for, and how dates stand on paper: with the month as a word."""

from __future__ import annotations

import calendar
from datetime import date
from typing import Final, Literal

from flueproof.papers.errors import DueDateError

DueRule = Literal["day", "month-end", "end-of-month"]
RULES: Final[tuple[str, ...]] = ("day", "month-end", "end-of-month")
_MONTHS: Final = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
_MOST_MONTHS: Final = 120


def due_date(done: date, months: int, rule: str = "day") -> date:
    """Return the date on which the next check is due, `months` [calendar months] after the work was done.

    rule: "day" keeps the day of the month, or takes the month's last day where it has no such day (31 January plus
    one month is the last day of February; 29 February plus twelve months is 28 February); "month-end" (the bench
    record writes "end-of-month") takes the last day of the month reached.
    Raises: DueDateError for an interval outside 1 to 120 months or an unknown rule.
    Source: common practice, no source.
    """
    if isinstance(months, bool) or not isinstance(months, int) or not 1 <= months <= _MOST_MONTHS:
        raise DueDateError(f"due.months is {months!r}; give a whole number of months from 1 to {_MOST_MONTHS}")
    if rule not in RULES:
        raise DueDateError(f"due.rule is {rule!r}; give one of {', '.join(RULES)}")
    years, month_index = divmod(done.month - 1 + months, 12)
    year, month = done.year + years, month_index + 1
    if year > date.max.year:
        raise DueDateError(f"{months} months after {done.isoformat()} lies beyond the calendar")
    last = calendar.monthrange(year, month)[1]
    return date(year, month, min(done.day, last) if rule == "day" else last)


def date_in_words(day: date) -> str:
    """Return a date that cannot be misread: "3 November 2026".

    Source: common practice, no source (month as a word, trade habit for stickers).
    """
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def date_short(day: date) -> str:
    """Return a date with the month as a short word, for labels: "03 Nov 2026".

    Source: common practice, no source.
    """
    return f"{day.day:02d} {_MONTHS[day.month - 1][:3]} {day.year}"
