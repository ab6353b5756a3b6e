"""Traces from a CSV file of any logger."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from flueproof.readings.errors import ReadingsError, ShownError, TraceFileError
from flueproof.readings.importing.header import Column, split_header
from flueproof.readings.importing.numbers import decimal_of, number_of
from flueproof.readings.importing.text import LOOKED_AT, Row, decoded, delimiter_of, rows_of
from flueproof.readings.importing.times import elapsed_s, seconds_of
from flueproof.readings.shown import Looks, ShownValue, read_shown, text_as_shown

# Written by programs where a number is missing or without end: in a row of readings, and refused (own list).
NO_NUMBERS = frozenset({"nan", "inf", "+inf", "-inf", "infinity", "+infinity", "-infinity"})


@dataclass(frozen=True, slots=True)
class CsvTrace:
    """One channel of a trace file.

    name: asked name, or the header without unit; unit: from the header, or None; times_s: from the first row [s];
    shown: numbers [unit] or texts as in the file; looks: the same, read.
    """

    name: str
    unit: str | None
    times_s: tuple[float, ...]
    shown: tuple[ShownValue, ...]
    looks: Looks


def read_trace_csv(
    data: bytes,
    *,
    column: str | None = None,
    time_column: str | None = None,
    mapping: Mapping[str, str] | None = None,
    delimiter: str | None = None,
    decimal: str | None = None,
    encoding: str | None = None,
    step: float | None = None,
) -> tuple[CsvTrace, ...]:
    """Return the traces of a CSV file, one per channel.

    data: bytes of the file; column: the one wanted, by header, name, name_unit or number from 1, None: all that hold
    numbers; time_column: likewise, None: found by its name, else the first; mapping: our name -> the file's header;
    delimiter, decimal, encoding: None: found; step: display step [unit of the column], None: found from the numbers.
    Raises: TraceFileError, naming row and column and what to do.
    Source: own rules; RFC 4180 for quotes (from memory).
    """
    if decimal not in {None, ".", ","}:
        raise TraceFileError(f"decimal sign {decimal!r} is neither point nor comma.", "Give '.' or ','.")
    text = decoded(data, encoding)
    cut_by = delimiter or delimiter_of(text)
    rows = rows_of(text, cut_by)
    sign = decimal or decimal_of((cell for row in rows[: 5 * LOOKED_AT] for cell in row.cells), cut_by)
    columns, first = split_header(rows, [_is_reading(row, sign) for row in rows])
    body = rows[first:]
    time = _time_column(columns, time_column, body[0], sign)
    date = next((one for one in columns if one.is_date and one is not time), None)
    times = _times(body, time, date, sign)
    wanted = _wanted(columns, time, column, mapping, body, sign, date)
    return tuple(_trace(name, one, body, times, sign, step) for name, one in wanted)


def _is_reading(row: Row, decimal: str) -> bool:
    timed = [place for place, cell in enumerate(row.cells) if not math.isnan(seconds_of(cell, None, decimal))]
    return len(row.cells) > 1 and bool(timed) and timed[0] <= 1 and len(timed) + _texts(row) > 1


def _texts(row: Row) -> int:
    return sum(bool(cell) and (cell.lower() in NO_NUMBERS or _bound(cell)) for cell in row.cells)


def _bound(cell: str) -> bool:
    try:
        return text_as_shown(cell)[1] is not None
    except ShownError:
        return False


def _time_column(columns: Sequence[Column], asked: str | None, row: Row, decimal: str) -> Column:
    if asked is not None:
        return _named(columns, asked)
    named = [one for one in columns if one.is_time]
    if named:
        return named[0]
    units = [one for one in columns if one.unit in {"s", "ms", "min", "h", "hh:mm:ss", "mm:ss", "hh:mm"}]
    if units:
        return units[0]
    if not math.isnan(seconds_of(row.cells[0], columns[0].unit, decimal)):
        return columns[0]
    raise TraceFileError(
        "no time column was found.",
        f"Name it; the file has {_list(columns)}.",
        row=row.number,
        column=columns[0].header,
    )


def _named(columns: Sequence[Column], asked: str) -> Column:
    answering = [one for one in columns if one.answers_to(asked)]
    if len(answering) == 1:
        return answering[0]
    problem = "is not in the file" if not answering else "is there more than once"
    raise TraceFileError(f"{problem}.", f"The file has {_list(columns)}; name one of them or its number.", column=asked)


def _list(columns: Sequence[Column]) -> str:
    return ", ".join(f"{one.place + 1} {one.header!r}" for one in columns[:20])


def _times(body: Sequence[Row], time: Column, date: Column | None, decimal: str) -> list[float]:
    seconds: list[float] = []
    clock = False
    for row in body:
        cell = _cell(row, time)
        value = seconds_of(cell, time.unit, decimal)
        if math.isnan(value) or not math.isfinite(value):
            raise TraceFileError(
                f"{cell[:40]!r} is no time.",
                "Write seconds, m:ss, h:mm:ss or a date with a time.",
                row=row.number,
                column=time.header,
            )
        clock = clock or (":" in cell and not any(mark in cell for mark in "-/T") and cell.count(".") < 2)
        if date is not None and clock:
            value += seconds_of(_cell(row, date), None, decimal)
        seconds.append(value)
    if date is not None and any(math.isnan(value) for value in seconds):
        place = next(place for place, value in enumerate(seconds) if math.isnan(value))
        raise TraceFileError(
            "this is no date.", "Write 2026-11-03 or 03.11.2026.", row=body[place].number, column=date.header
        )
    return elapsed_s(seconds, [row.number for row in body], time.header, clock=clock and date is None)


def _cell(row: Row, column: Column) -> str:
    if column.place >= len(row.cells):
        raise TraceFileError(
            f"the row has {len(row.cells)} cells, so this one is missing.",
            "Complete the row, write ---- for no reading, or take it out.",
            row=row.number,
            column=column.header,
        )
    return row.cells[column.place]


def _wanted(
    columns: Sequence[Column],
    time: Column,
    column: str | None,
    mapping: Mapping[str, str] | None,
    body: Sequence[Row],
    decimal: str,
    date: Column | None,
) -> list[tuple[str, Column]]:
    if mapping:
        return [(ours, _named(columns, theirs)) for ours, theirs in mapping.items()]
    if column is not None:
        found = _named(columns, column)
        if found is time:
            raise TraceFileError(
                "is the time column.", f"Name a channel; the file has {_list(columns)}.", column=column
            )
        return [(found.name, found)]
    others = [one for one in columns if one is not time and one is not date]
    kept = [
        (one.name, one)
        for one in others
        if any(number_of(row.cells[one.place], decimal) is not None for row in body if one.place < len(row.cells))
    ]
    if not kept:
        raise TraceFileError("no column holds numbers.", f"Name a channel; the file has {_list(columns)}.")
    return kept


def _trace(
    name: str, column: Column, body: Sequence[Row], times: Sequence[float], decimal: str, step: float | None
) -> CsvTrace:
    shown = tuple(_shown(row, column, decimal) for row in body)
    try:
        looks = read_shown(shown, np.asarray(times), step)
    except ReadingsError as error:
        raise TraceFileError(f"{error}.", "Correct the file.", column=column.header) from None
    return CsvTrace(name, column.unit, tuple(times), shown, looks)


def _shown(row: Row, column: Column, decimal: str) -> ShownValue:
    cell = _cell(row, column)
    number = number_of(cell, decimal)
    if number is not None and math.isfinite(number):
        return number
    if cell.lower() in NO_NUMBERS or number is not None:
        raise TraceFileError(
            f"{cell!r} is no reading.",
            "Write what the display showed: a number, OVER or ----.",
            row=row.number,
            column=column.header,
        )
    try:
        text_as_shown(cell)
    except ShownError:
        raise TraceFileError(
            f"{cell[:40]!r} is neither a number nor a text a display gives.",
            "Write the number, OFL or OVER above the range, ---- for no reading; or name the decimal sign.",
            row=row.number,
            column=column.header,
        ) from None
    return cell
