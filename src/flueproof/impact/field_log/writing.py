"""The list that goes to the owner: CSV for a spreadsheet, JSON for another program."""

from __future__ import annotations

import csv
import io
import math
from typing import Any

from flueproof.analyzer.units import difference_from_core, from_core
from flueproof.impact.correcting.corrected import QUANTITIES
from flueproof.impact.correcting.over_time import COURSE_HEADS, COURSE_WORDS
from flueproof.impact.field_log.results import LogResult, RowChange, RowResult
from flueproof.impact.field_log.row import TemperatureUnit
from flueproof.impact.statements.limits import NAMES, UNITS
from flueproof.impact.statements.wording import HEADS, ONE_RULE, limit_in_words

FORMAT = "flueproof-field-log/1"
DECIMALS = {"o2_pct": 2, "co_ppm": 1, "stack_c": 1, "air_c": 1, "co_air_free_ppm": 1, "excess_air_pct": 1}
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "|")
_SIGNS = {"degC": "\N{DEGREE SIGN}C", "degF": "\N{DEGREE SIGN}F"}


def result_csv(result: LogResult, temperature_unit: TemperatureUnit = "degC") -> str:
    """Return the worked log as CSV, one reading a line, the most dangerous first.

    Text that a spreadsheet would take for a formula gets an apostrophe in front; numbers have a decimal point.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([safe(cell) for cell in _head(result, temperature_unit)])
    for one in result.rows:
        writer.writerow(_line(one, result, temperature_unit))
    return out.getvalue()


def result_json(result: LogResult) -> dict[str, Any]:
    """Return the worked log as plain JSON values in core units, null where nothing can be said."""
    return {
        "format": FORMAT,
        "rule": ONE_RULE,
        "found_on": result.found_on,
        "last_good_on": result.last_good_on,
        "courses": {name: COURSE_WORDS[name] for name in result.courses},
        "coverage": "expanded uncertainty, k = 2, about 95 %",
        "units": UNITS,
        "limits": [limit.as_dict() for limit in result.limits],
        "conventions": dict(result.conventions),
        "notes": list(result.notes),
        "counts": dict(result.counts),
        "rows": [_row_json(one) for one in result.rows],
    }


def safe(cell: str) -> str:
    """Return text that no spreadsheet takes for a formula."""
    return f"'{cell}" if cell.startswith(_FORMULA) or cell.lstrip().startswith(_FORMULA[:4]) else cell


def _head(result: LogResult, unit: TemperatureUnit) -> list[str]:
    head = ["line", "date", "site", "fuel", "what became of it"]
    head += [limit_in_words(limit) for limit in result.limits]
    for name in QUANTITIES:
        head.append(f"{NAMES[name]} shown [{_sign(name, unit)}]")
        for course in result.courses:
            head += [f"{NAMES[name]} corrected, {COURSE_HEADS[course]} [{_sign(name, unit)}]", "U (k = 2)"]
    return [*head, "remarks", "rule"]


def _line(one: RowResult, result: LogResult, unit: TemperatureUnit) -> list[str]:
    day = "" if one.row.day is None else one.row.day.isoformat()
    line = [str(one.row.line), day, safe(one.row.site), safe(one.row.fuel), HEADS[one.worst]]
    line += [change.words for change in one.changes]
    for name in QUANTITIES:
        line.append(_number(_in(one.shown[name], name, unit), name))
        for course in result.courses:
            value, expanded = one.corrected[course][name]
            line.append(_number(_in(value, name, unit), name))
            line.append(_number(_wide(expanded, name, unit), name))
    return [*line, " ".join(one.cautions), ONE_RULE]


def _sign(name: str, unit: TemperatureUnit) -> str:
    return _SIGNS[unit] if UNITS[name] == "degC" else UNITS[name]


def _in(value: float, name: str, unit: TemperatureUnit) -> float:
    return float(from_core(value, unit, "degC")) if UNITS[name] == "degC" else value


def _wide(value: float, name: str, unit: TemperatureUnit) -> float:
    return float(difference_from_core(value, unit, "degC")) if UNITS[name] == "degC" else value


def _number(value: float, name: str) -> str:
    return f"{value:.{DECIMALS.get(name, 2)}f}" if math.isfinite(value) else ""


def _row_json(one: RowResult) -> dict[str, Any]:
    return {
        **one.row.as_dict(),
        "concerned": one.concerned,
        "share_of_growth": one.share,
        "shown": {name: _plain(value) for name, value in one.shown.items()},
        "corrected": {
            course: {name: {"value": _plain(value), "U": _plain(wide)} for name, (value, wide) in values.items()}
            for course, values in one.corrected.items()
        },
        "statements": [_change_json(change) for change in one.changes],
        "remarks": list(one.cautions),
        "worst": one.worst,
        "worst_in_words": HEADS[one.worst],
    }


def _change_json(change: RowChange) -> dict[str, Any]:
    return {
        "limit": change.limit.name,
        "by_course": dict(change.by_course),
        "worst": change.worst,
        "words": change.words,
        "beyond": _plain(change.beyond),
    }


def _plain(value: float) -> float | None:
    return value if math.isfinite(value) else None
