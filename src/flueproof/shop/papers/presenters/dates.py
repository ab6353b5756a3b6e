"""What is due when, in words."""

from __future__ import annotations

from flueproof.papers.due import date_in_words
from flueproof.shop.records.issuing.obligations import DueAfter
from flueproof.shop.records.models import Obligation

_RULES = {"day": "to the day", "month-end": "end of the month"}


def due_line(after: DueAfter) -> str:
    """Return an obligation with the day on which it would be due again."""
    one = after.obligation
    last = f"last done {date_in_words(one.last_done)}" if one.last_done else "never noted as done"
    if after.next_due is None:
        return f"{one.what}: {last}; no due date, because nobody agreed to one"
    return f"{one.what}: {last}; then due {date_in_words(after.next_due)} ({interval(one)})"


def interval(one: Obligation) -> str:
    """Return the interval and rule of an obligation."""
    months = "month" if one.months == 1 else "months"
    return f"{one.months} {months}, {_RULES[one.rule]}"
