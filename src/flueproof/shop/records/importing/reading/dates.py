"""Dates as people write them. A date that can be read in two ways is refused until somebody chose the order."""

from __future__ import annotations

import datetime as dt
import re
from typing import Final

ORDERS: Final = {
    "dmy": "day, month, year",
    "mdy": "month, day, year",
    "ymd": "year, month, day",
}
_MONTHS: Final = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_LONG_MONTHS: Final = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
_TIME: Final = re.compile(
    r"(?:[T ]\s*|,\s*)\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?\s*(?:[AaPp]\.?[Mm]\.?|Z|[+-]\d{2}:?\d{2})?$"
)
_WEEKDAY: Final = re.compile(r"^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+", re.IGNORECASE)
_FIGURES: Final = re.compile(r"(\d{1,4})\s*[-/. ]\s*(\d{1,2})\s*[-/. ]\s*(\d{1,4})\.?", re.ASCII)
_COMPACT: Final = re.compile(r"(\d{4})(\d{2})(\d{2})", re.ASCII)
_DAY_MONTH: Final = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[-/. ,]*([a-z]{3,9})[-/. ,']*(\d{4}|\d{2})", re.ASCII)
_MONTH_DAY: Final = re.compile(r"([a-z]{3,9})[-/. ]*(\d{1,2})(?:st|nd|rd|th)?[-/. ,']+(\d{4}|\d{2})", re.ASCII)
_YEARS_AHEAD: Final = 10
_FIRST_YEAR: Final = 1900
_LONGEST: Final = 60


class DateRefusedError(ValueError):
    """A text that is no date, or no possible one; the text of the error says why."""


class AmbiguousDateError(DateRefusedError):
    """A date that can be read in more than one way; `readings` has order -> day."""

    def __init__(self, text: str, readings: dict[str, dt.date]) -> None:
        """Hold the ways to read it."""
        ways = " or ".join(dict.fromkeys(day_in_words(day) for day in readings.values()))
        super().__init__(f"{text} can be {ways}: choose the order of day and month for this file")
        self.readings = readings


def read_day(text: str, order: str, today: dt.date) -> dt.date:
    """Return the day that a text means.

    order: a key of ORDERS, or "" when nobody chose one yet; today: for years of two digits (see `whole_year`).
    Raises: AmbiguousDateError, DateRefusedError.
    """
    if len(text) > _LONGEST:
        raise DateRefusedError(f"{text[:_LONGEST]}… is no date")
    bare = _TIME.sub("", text.strip()).strip()
    if found := _COMPACT.fullmatch(bare):
        return _day(text, int(found[1]), int(found[2]), int(found[3]))
    if found := _FIGURES.fullmatch(bare):
        return _from_figures(text, found[1], found[2], found[3], order, today)
    return _from_words(text, _WEEKDAY.sub("", bare).lower(), today)


def only_order(text: str, today: dt.date) -> str:
    """Return the one order, day or month first, in which a date in figures is possible; "" when both are, or none."""
    found = _FIGURES.fullmatch(_TIME.sub("", text.strip()).strip()) if len(text) <= _LONGEST else None
    if found is None or len(found[1]) > 2:
        return ""
    possible = [
        order
        for order, month, day in (("dmy", found[2], found[1]), ("mdy", found[1], found[2]))
        if _possible(found[3], month, day, today) is not None
    ]
    return possible[0] if len(possible) == 1 else ""


def whole_year(digits: str, today: dt.date) -> int:
    """Return a year of four digits; two digits mean the latest such year that is at most ten years ahead of today."""
    if len(digits) == 4:
        return int(digits)
    latest = today.year + _YEARS_AHEAD
    year = latest - latest % 100 + int(digits)
    return year if year <= latest else year - 100


def day_in_words(day: dt.date) -> str:
    """Return a day with its month as a word: "4 Feb 1995"."""
    return f"{day.day} {_MONTHS[day.month - 1].title()} {day.year}"


def _from_figures(text: str, one: str, two: str, three: str, order: str, today: dt.date) -> dt.date:
    if len(one) >= 3:
        if len(three) > 2 or len(one) != 4:
            raise DateRefusedError(f"{text} is no date")
        return _day(text, int(one), int(two), int(three))
    parts = {"dmy": (three, two, one), "mdy": (three, one, two), "ymd": (one, two, three)}
    possible = {name: day for name, given in parts.items() if (day := _possible(*given, today)) is not None}
    if order:
        if order not in possible:
            raise DateRefusedError(f"{text} is no date in the order {ORDERS[order]}")
        return possible[order]
    if not possible:
        raise DateRefusedError(f"{text} is no day of any month")
    if len(set(possible.values())) > 1:
        raise AmbiguousDateError(text, possible)
    return next(iter(possible.values()))


def _possible(year: str, month: str, day: str, today: dt.date) -> dt.date | None:
    if len(year) not in {2, 4} or len(month) > 2 or len(day) > 2:
        return None
    try:
        return dt.date(_sensible(whole_year(year, today)), int(month), int(day))
    except ValueError:
        return None


def _from_words(text: str, bare: str, today: dt.date) -> dt.date:
    if found := _DAY_MONTH.fullmatch(bare):
        day, month, year = found[1], found[2], found[3]
    elif found := _MONTH_DAY.fullmatch(bare):
        month, day, year = found[1], found[2], found[3]
    elif bare.isdecimal() and len(bare) == 5:
        raise DateRefusedError(f"{text} is a spreadsheet's count of days: show the column as dates, then export again")
    else:
        raise DateRefusedError(f"{text} is no date that we can read: write 2024-06-15 or 15 Jun 2024")
    return _day(text, whole_year(year, today), _month(text, month), int(day))


def _month(text: str, word: str) -> int:
    for names in (_MONTHS, _LONG_MONTHS):
        if word in names:
            return names.index(word) + 1
    if word == "sept":
        return 9
    raise DateRefusedError(f"{text} names no month that we know: write 2024-06-15 or 15 Jun 2024")


def _sensible(year: int) -> int:
    if not _FIRST_YEAR <= year <= 2200:
        raise ValueError(year)
    return year


def _day(text: str, year: int, month: int, day: int) -> dt.date:
    try:
        return dt.date(_sensible(year), month, day)
    except ValueError as error:
        raise DateRefusedError(f"{text} is no day of any month") from error
