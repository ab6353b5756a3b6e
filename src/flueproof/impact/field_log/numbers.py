"""One cell of a log as a number in its core unit; a unit in the cell itself counts before that of the header."""

from __future__ import annotations

import math
import re

from flueproof.analyzer.units import to_core
from flueproof.impact.field_log.columns import TEMPERATURES, LogColumn
from flueproof.impact.field_log.row import RANGES, LogSettings
from flueproof.readings.importing.numbers import decimal_of, number_of

NOTHING = frozenset({"", "-", "--", "---", "----", "n/a", "na", "none"})
_TEMPERATURE = re.compile(r"^(?P<number>[-+\u2212]?[0-9.,]+)\s*\N{DEGREE SIGN}?\s*(?P<unit>[CcFf])$")
_UNIT = re.compile(r"\s*(ppm|vpm|%|vol\.?-?%|\N{DEGREE SIGN})$", re.IGNORECASE)
_GROUPED = re.compile(r"^[+-]?[0-9]{1,3}([.,])[0-9]{3}$")


def has_no_unit(cell: str) -> bool:
    """Return whether a temperature cell leaves its unit open."""
    return cell.lower() not in NOTHING and _TEMPERATURE.match(cell) is None


def value_of(cell: str, column: LogColumn, settings: LogSettings) -> float:
    """Return a cell's value in the core unit of its quantity, nan where nothing was written.

    Raises: ValueError in words for what is no number, can be read in two ways, or cannot be.
    """
    if cell.lower() in NOTHING:
        return math.nan
    own = _TEMPERATURE.match(cell) if column.what in TEMPERATURES else None
    text = own["number"] if own is not None else _UNIT.sub("", cell).strip()
    sign = settings.decimal or decimal_of([text], ";")
    number = number_of(text, sign)
    if number is None:
        raise ValueError(f"{cell[:40]!r} is no number.")
    grouped = _GROUPED.match(text)
    if grouped is not None and column.what != "o2_pct" and grouped[1] == sign:
        raise ValueError(f"{cell[:40]!r} can be read in two ways: write it without the sign that groups thousands.")
    if column.what in TEMPERATURES:
        unit = {"c": "degC", "f": "degF"}[own["unit"].lower()] if own is not None else None
        number = float(to_core(number, unit or column.unit or settings.temperature_unit or "degC", "degC"))
    elif column.what == "co_ppm" and column.unit == "%":
        number *= 1e4
    low, high, unit_words = RANGES[column.what]
    if not low <= number <= high:
        raise ValueError(f"{cell[:40]!r} cannot be: allowed is {low:g} to {high:g} {unit_words}.")
    return number
