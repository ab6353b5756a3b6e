"""One reading of an owner's log, and what the reader has to be told or has to ask."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from typing import Any, Literal

TemperatureUnit = Literal["degC", "degF"]
DateOrder = Literal["month-first", "day-first"]
DecimalSign = Literal[".", ","]
VALUES = ("o2_pct", "co_ppm", "stack_c", "air_c", "no_ppm", "own_efficiency_pct")
RANGES = {
    "o2_pct": (-1.0, 25.0, "%"),
    "co_ppm": (-100.0, 200_000.0, "ppm"),
    "stack_c": (-50.0, 1200.0, "degC"),
    "air_c": (-50.0, 150.0, "degC"),
    "no_ppm": (-50.0, 20_000.0, "ppm"),
    "own_efficiency_pct": (0.0, 115.0, "%"),
}
"""What a reading can be; outside it is a slip of the pen. Own choice."""


@dataclass(frozen=True, slots=True)
class FieldRow:
    """One reading as the owner wrote it down, in core units; nan where nothing was written.

    line: of the file, or number of the typed row, from 1; day: None where it was not written; site: the owner's own
    label, never looked into; fuel: key of a fuel.
    """

    line: int
    day: date | None
    site: str
    fuel: str
    o2_pct: float
    co_ppm: float = math.nan
    stack_c: float = math.nan
    air_c: float = math.nan
    no_ppm: float = math.nan
    own_efficiency_pct: float = math.nan

    def as_dict(self) -> dict[str, Any]:
        """Return plain values for JSON, null for what was not written."""
        plain: dict[str, Any] = {
            "line": self.line,
            "day": None if self.day is None else self.day.isoformat(),
            "site": self.site,
            "fuel": self.fuel,
        }
        return plain | {name: _number(getattr(self, name)) for name in VALUES}


def row_from_dict(data: dict[str, Any]) -> FieldRow:
    """Return the row that `as_dict` wrote. Raises: KeyError, ValueError on foreign data."""
    values = {name: math.nan if data[name] is None else float(data[name]) for name in VALUES}
    day = None if data["day"] is None else date.fromisoformat(data["day"])
    return FieldRow(int(data["line"]), day, str(data["site"]), str(data["fuel"]), **values)


def _number(value: float) -> float | None:
    return None if math.isnan(value) else value


@dataclass(frozen=True, slots=True)
class LogSettings:
    """What the file itself may leave open; None: found in the file, or asked.

    fuel: key of the fuel of rows that name none.
    """

    temperature_unit: TemperatureUnit | None = None
    date_order: DateOrder | None = None
    decimal: DecimalSign | None = None
    fuel: str = "natural-gas-us"


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing on one line that cannot be read: the line is left out until it is mended."""

    line: int | None
    column: str | None
    message: str

    def __str__(self) -> str:
        where = ", ".join(part for part in (f"line {self.line}" if self.line else "", self.column or "") if part)
        return f"{where}: {self.message}" if where else self.message


@dataclass(frozen=True, slots=True)
class Question:
    """What only the owner can say: `setting` of LogSettings, the words, and the choices (value, words)."""

    setting: str
    words: str
    choices: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class ReadLog:
    """What was read: rows, problems by line, questions. While a question is open there are no rows."""

    rows: tuple[FieldRow, ...]
    problems: tuple[Problem, ...] = ()
    questions: tuple[Question, ...] = ()
    columns: tuple[tuple[str, str], ...] = ()
