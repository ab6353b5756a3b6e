"""Times and dates: ISO 8601, times with an offset, dates as dates."""

import re
from datetime import date, datetime
from typing import Annotated, Any

from pydantic import BeforeValidator, PlainSerializer, WithJsonSchema

from flueproof.bench.record.values.entry import fault

_TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d{1,6})?)?(Z|[+-]\d\d:\d\d)?")
_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_MONTH = re.compile(r"\d{4}-\d\d")
_TIME_REMEDY = "Write it like 2026-11-03T09:12:00-05:00."
_DAY_REMEDY = "Write year, month and day like 2026-11-03."


def _text_of(given: Any, what: str, remedy: str) -> str:
    if not isinstance(given, str):
        raise fault(f"{what} is text in quotes, not {type(given).__name__}.", remedy)
    return given


def _moment(given: Any) -> datetime:
    if isinstance(given, datetime):
        moment = given
    else:
        text = _text_of(given, "a time", _TIME_REMEDY)
        if _TIME.fullmatch(text) is None:
            raise fault(f"{text[:40]!r} is no ISO 8601 time.", _TIME_REMEDY)
        try:
            moment = datetime.fromisoformat(text)
        except ValueError:
            raise fault(
                f"{text!r} does not exist in the calendar or on the clock.",
                "Look up the day and the time and write them.",
            ) from None
    if moment.tzinfo is None:
        raise fault(
            f"the time {str(given)!r} has no offset from UTC, so it cannot be placed.",
            "Add the offset of the bench's clock, like -05:00 or Z.",
        )
    return moment


def _day(given: Any) -> date:
    if isinstance(given, datetime):
        raise fault("a date has no time of day.", _DAY_REMEDY)
    if isinstance(given, date):
        return given
    text = _text_of(given, "a date", _DAY_REMEDY)
    if _DAY.fullmatch(text) is None:
        raise fault(f"{text[:40]!r} is no date.", _DAY_REMEDY)
    return _existing_day(text, text)


def _existing_day(text: str, shown: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise fault(f"{shown!r} does not exist in the calendar.", "Look up the date and write it.") from None


def _month_or_day(given: Any) -> str:
    text = _text_of(given, "a month or date", _DAY_REMEDY)
    if _MONTH.fullmatch(text) is not None:
        _existing_day(f"{text}-01", text)
    elif _DAY.fullmatch(text) is not None:
        _existing_day(text, text)
    else:
        raise fault(f"{text[:40]!r} is neither a month nor a date.", "Write it like 2026-11 or 2026-11-03.")
    return text


def first_day(month_or_day: str) -> date:
    """Return the earliest day that a month ("2024-06") or a date ("2024-06-17") can mean.

    Source: ISO 8601-1:2019 calendar dates, from memory.
    """
    return date.fromisoformat(month_or_day if len(month_or_day) == len("2024-06-17") else f"{month_or_day}-01")


Moment = Annotated[
    datetime,
    BeforeValidator(_moment),
    PlainSerializer(datetime.isoformat, return_type=str, when_used="json"),
    WithJsonSchema(
        {
            "type": "string",
            "format": "date-time",
            "pattern": r"^\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d{1,6})?)?(Z|[+-]\d\d:\d\d)$",
        }
    ),
]
Day = Annotated[
    date,
    BeforeValidator(_day),
    WithJsonSchema({"type": "string", "format": "date", "pattern": r"^\d{4}-\d\d-\d\d$"}),
]
MonthOrDay = Annotated[
    str, BeforeValidator(_month_or_day), WithJsonSchema({"type": "string", "pattern": r"^\d{4}-\d\d(-\d\d)?$"})
]
