"""The invented names of the demo, and dates moved to today."""

from __future__ import annotations

import datetime as dt
import functools
import re
import tomllib
from importlib import resources
from typing import Any, Final

WRITTEN_FOR: Final = dt.date(2026, 11, 4)
"""The day on which the simulator's demo records end: one day after the last visit."""
_DATE: Final = re.compile(r"(\d{4}-\d{2}-\d{2})(T.*)?")


@functools.cache
def scenario() -> dict[str, Any]:
    """Return data/scenario.toml; every name is invented."""
    text = resources.files("flueproof.shop.demo_shop").joinpath("data/scenario.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def shifted(tree: Any, days: int) -> Any:
    """Return a JSON value with every date and time in it moved by whole days; all else stays."""
    if isinstance(tree, dict):
        return {key: shifted(value, days) for key, value in tree.items()}
    if isinstance(tree, list | tuple):
        return [shifted(value, days) for value in tree]
    if isinstance(tree, str) and (match := _DATE.fullmatch(tree)):
        moved = dt.date.fromisoformat(match.group(1)) + dt.timedelta(days=days)
        return moved.isoformat() + (match.group(2) or "")
    return tree


def workdays_before(day: dt.date, count: int) -> list[dt.date]:
    """Return the last `count` days from Monday to Friday before a day, the earliest first."""
    found: list[dt.date] = []
    while len(found) < count:
        day -= dt.timedelta(days=1)
        if day.weekday() < 5:
            found.append(day)
    return found[::-1]


def workdays_after(day: dt.date, count: int) -> dt.date:
    """Return the day that is `count` days from Monday to Friday after a day."""
    while count:
        day += dt.timedelta(days=1)
        count -= day.weekday() < 5
    return day
