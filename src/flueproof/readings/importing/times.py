"""Times of a trace file: elapsed numbers, clock times, dates with clock times."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from datetime import datetime

from flueproof.readings.errors import TraceFileError
from flueproof.readings.importing.numbers import number_of

SECONDS = {"s": 1.0, "ms": 0.001, "min": 60.0, "h": 3600.0, None: 1.0}
CLOCK = re.compile(
    r"^(?P<sign>-?)(?:(?P<h>\d{1,3}):)?(?P<m>\d{1,3}):(?P<s>\d{1,2}(?:[.,]\d+)?)\s*(?P<half>[AaPp]\.?[Mm]\.?)?$"
)
DAY_MONTH = re.compile(r"^(?P<a>\d{1,4})[./-](?P<b>\d{1,2})[./-](?P<c>\d{1,4})[ T,]*(?P<clock>.*)$")
ZONE = re.compile(r"(?<=\d)\s*(?:Z|UTC|[+-]\d{2}:?\d{2})$")
DAY_S = 86_400.0


def seconds_of(text: str, unit: str | None, decimal: str) -> float:
    """Return a time as seconds [s], from any zero: nan when the text is no time.

    text: elapsed number, m:ss, h:mm:ss, clock time with AM or PM, or a date with a clock time; unit: of the column;
    decimal: decimal sign of the file.
    Source: ISO 8601 order for dates that begin with the year; otherwise day first unless only
    month first fits: own rule.
    """
    number = number_of(text, decimal)
    if number is not None:
        return number * SECONDS.get(unit, 1.0)
    clock = CLOCK.match(text)
    if clock:
        return _clock_s(clock, unit)
    dated = DAY_MONTH.match(text)
    if not dated:
        return math.nan
    day = _day_s(int(dated["a"]), int(dated["b"]), int(dated["c"]), dated["a"])
    clock_text = ZONE.sub("", dated["clock"].strip())
    if not clock_text:
        return day
    clock = CLOCK.match(clock_text if clock_text.count(":") > 1 else f"{clock_text}:00")
    return day + _clock_s(clock, None) if clock else math.nan


def _clock_s(clock: re.Match[str], unit: str | None) -> float:
    hours = float(clock["h"] or 0.0)
    minutes, seconds = float(clock["m"]), float(clock["s"].replace(",", "."))
    if clock["h"] is None and unit == "hh:mm":
        hours, minutes, seconds = minutes, seconds, 0.0
    if clock["half"]:
        hours = hours % 12 + (12.0 if clock["half"][0].lower() == "p" else 0.0)
    total = 3600.0 * hours + 60.0 * minutes + seconds
    return -total if clock["sign"] else total


def _day_s(first: int, second: int, third: int, first_text: str) -> float:
    year, month, day = (first, second, third) if len(first_text) == 4 else (third, second, first)
    if month > 12:
        month, day = day, month
    year += 2000 if year < 100 else 0
    try:
        return (datetime(year, month, day) - datetime(2000, 1, 1)).total_seconds()  # noqa: DTZ001 -- differences only
    except ValueError:
        return math.nan


def elapsed_s(seconds: Sequence[float], rows: Sequence[int], column: str, *, clock: bool) -> list[float]:
    """Return times from the first one on [s], ascending; a clock that passes midnight goes on.

    seconds: as read [s]; rows: their lines in the file; column: name of the time column; clock: clock times without
    date.
    Raises: TraceFileError where a time runs backwards, naming row and column.
    Source: own rule.
    """
    elapsed: list[float] = []
    days = 0.0
    for place, time in enumerate(seconds):
        if clock and place and time + days < seconds[place - 1] + days - 0.5 * DAY_S:
            days += DAY_S
        here = time + days - seconds[0]
        if elapsed and here < elapsed[-1]:
            raise TraceFileError(
                f"the time goes back by {elapsed[-1] - here:g} s.",
                "Put the rows in the order of time, or cut the file where a new trace begins.",
                row=rows[place],
                column=column,
            )
        elapsed.append(here)
    return elapsed
