"""Dates of a log: ISO, or with slashes and dots, where the order of day and month is told by the file or asked."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date

from flueproof.impact.field_log.row import DateOrder

_ISO = re.compile(r"^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ].*)?$")
_NUMBERS = re.compile(r"^(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d{2})(?: .*)?$")
_MONTHS = {name: place for place, name in enumerate(
    ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"), start=1)}  # fmt: skip
_DAY_NAMED = re.compile(r"^(\d{1,2})[ -]([A-Za-z]{3})[A-Za-z]*[ -](\d{4})$")
_MONTH_NAMED = re.compile(r"^([A-Za-z]{3})[A-Za-z]* (\d{1,2}),? (\d{4})$")


def order_of(cells: Iterable[str]) -> DateOrder | None:
    """Return the order that the dates of a file show: one number above 12 tells it; dots mean day first.

    Returns: None where every date can be read both ways, or both orders occur.
    """
    orders: set[DateOrder] = set()
    for cell in cells:
        found = _NUMBERS.match(cell.strip())
        if found is None:
            continue
        first, sign, second = int(found[1]), found[2], int(found[3])
        if first > 12 or (sign == "." and second <= 12):
            orders.add("day-first")
        elif second > 12:
            orders.add("month-first")
    return next(iter(orders)) if len(orders) == 1 else None


def is_ambiguous(cell: str) -> bool:
    """Return whether a date can be read both ways, and means two days."""
    found = _NUMBERS.match(cell.strip())
    return found is not None and int(found[1]) <= 12 and int(found[3]) <= 12 and found[1] != found[3]


def day_of(cell: str, order: DateOrder | None) -> date:
    """Return the day of a cell. Raises: ValueError in words for what is no date, or no day of the calendar."""
    text = cell.strip()
    found = _ISO.match(text)
    if found is not None:
        return _day(text, int(found[1]), int(found[2]), int(found[3]))
    numbers = _NUMBERS.match(text)
    if numbers is not None:
        first, second, year = int(numbers[1]), int(numbers[3]), _year(numbers[4])
        month, day = (second, first) if (order or "month-first") == "day-first" else (first, second)
        return _day(text, year, month, day)
    named = _DAY_NAMED.match(text)
    if named is not None and named[2].lower() in _MONTHS:
        return _day(text, int(named[3]), _MONTHS[named[2].lower()], int(named[1]))
    named = _MONTH_NAMED.match(text)
    if named is not None and named[1].lower() in _MONTHS:
        return _day(text, int(named[3]), _MONTHS[named[1].lower()], int(named[2]))
    raise ValueError(f"{text[:40]!r} is no date: write it like 2026-11-03.")


def _year(text: str) -> int:
    return int(text) if len(text) == 4 else 2000 + int(text)


def _day(text: str, year: int, month: int, day: int) -> date:
    try:
        return date(year, month, day)
    except ValueError:
        raise ValueError(f"{text[:40]!r} is no day of the calendar: write it like 2026-11-03.") from None
