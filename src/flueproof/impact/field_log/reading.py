"""An owner's log from a CSV file or from typed rows: what can be read, what cannot and why, what must be asked."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Mapping, Sequence
from datetime import date

from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.impact.errors import FieldLogError
from flueproof.impact.field_log.columns import TEMPERATURES, LogColumn, understood
from flueproof.impact.field_log.dates import day_of, is_ambiguous, order_of
from flueproof.impact.field_log.fuels import fuel_named
from flueproof.impact.field_log.numbers import has_no_unit, value_of
from flueproof.impact.field_log.row import VALUES, FieldRow, LogSettings, Problem, Question, ReadLog
from flueproof.readings.importing.numbers import decimal_of

MOST_BYTES = 8_000_000
MOST_ROWS = 50_000
MOST_PROBLEMS = 200
LONGEST_SITE = 120
_DELIMITERS = (";", "\t", "|", ",")
Fuels = Mapping[str, Fuel]
_ASK_ORDER = Question(
    "date_order",
    "The dates can be read both ways. Which comes first?",
    (("month-first", "the month: 03/04/2026 is 4 March"), ("day-first", "the day: 03/04/2026 is 3 April")),
)
_ASK_UNIT = Question(
    "temperature_unit",
    "In which unit are the temperatures? The header does not say.",
    (("degF", "\N{DEGREE SIGN}F"), ("degC", "\N{DEGREE SIGN}C")),
)


def read_log(data: bytes, settings: LogSettings | None = None, own_fuels: Fuels | None = None) -> ReadLog:
    """Return the readings of a CSV file; nothing of it is kept by this function.

    A line that cannot be read is left out and told once, with its column. Where the file leaves the order of the dates
    or the unit of the temperatures open, there are no rows but a question; ask again with the answer in settings.
    Raises: FieldLogError for a file that is none, too large, or without the columns that are needed.
    """
    told = settings or LogSettings()
    lines = _lines(_text(data))
    columns = understood(lines[0][1])
    body = [[cells[one.place].strip() if one.place < len(cells) else "" for one in columns] for _, cells in lines[1:]]
    questions = _questions(columns, body, told)
    named = tuple((one.header, one.what) for one in columns)
    if questions:
        return ReadLog((), (), questions, named)
    order = told.date_order or order_of(_cells(columns, body, "day"))
    numeric = [cell for name in VALUES for cell in _cells(columns, body, name)]
    sign = told.decimal or decimal_of(numeric, _delimiter(_text(data)))
    settled = LogSettings(told.temperature_unit, order, "," if sign == "," else ".", told.fuel)
    return _read(zip((number for number, _ in lines[1:]), body, strict=True), columns, settled, own_fuels, named)


def typed_log(
    rows: Sequence[Mapping[str, str]], settings: LogSettings | None = None, own_fuels: Fuels | None = None
) -> ReadLog:
    """Return readings typed on a page; keys: day, site, fuel, o2, co, stack, air, no, efficiency; blank: not known.

    Without a unit in the settings temperatures are asked for as in a file.
    """
    told = settings or LogSettings()
    keys = {"day": "day", "site": "site", "fuel": "fuel", "o2": "o2_pct", "co": "co_ppm", "stack": "stack_c",
            "air": "air_c", "no": "no_ppm", "efficiency": "own_efficiency_pct"}  # fmt: skip
    columns = tuple(LogColumn(place, key, what, None) for place, (key, what) in enumerate(keys.items()))
    if len(rows) > MOST_ROWS:
        raise FieldLogError(f"{len(rows)} rows were given; at most {MOST_ROWS} are taken.")
    body = [[str(row.get(key, "") or "").strip() for key in keys] for row in rows]
    questions = _questions(columns, body, told)
    if questions:
        return ReadLog((), (), questions)
    order = told.date_order or order_of(_cells(columns, body, "day"))
    settled = LogSettings(told.temperature_unit, order, told.decimal, told.fuel)
    filled = [(number, cells) for number, cells in enumerate(body, start=1) if any(cells)]
    return _read(filled, columns, settled, own_fuels, ())


def _text(data: bytes) -> str:
    if len(data) > MOST_BYTES:
        raise FieldLogError(f"the file has {len(data):,} bytes; at most {MOST_BYTES:,} are read. Cut it into parts.")
    encoding = "utf-16" if data[:2] in {b"\xff\xfe", b"\xfe\xff"} else "utf-8-sig"
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:  # what older spreadsheets write; every byte has a letter in it
        text = data.decode("latin-1")
    if any(ord(sign) < 32 and sign not in "\t\r\n\x0b\x0c" for sign in text):
        raise FieldLogError("the file is no text: save the table as CSV in UTF-8.")
    if not text.strip():
        raise FieldLogError("the file is empty: export the log again, with a first line that names the columns.")
    return text


def _delimiter(text: str) -> str:
    head = next(line for line in text.splitlines() if line.strip())
    return max(_DELIMITERS, key=lambda sign: (head.count(sign), -_DELIMITERS.index(sign)))


def _lines(text: str) -> list[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_delimiter(text), strict=True)
    found: list[tuple[int, list[str]]] = []
    before = 0
    try:
        for cells in reader:
            number, before = before + 1, reader.line_num
            if any(cell.strip() for cell in cells) and not cells[0].lower().startswith("sep="):
                found.append((number, cells))
            if len(found) > MOST_ROWS + 1:
                raise FieldLogError(f"the file has more than {MOST_ROWS:,} readings: cut it into parts.")
    except csv.Error as error:
        raise FieldLogError(f"the line cannot be cut into cells ({error}).", line=before + 1) from None
    if len(found) < 2:
        raise FieldLogError("there is no reading below the line that names the columns.")
    return found


def _cells(columns: Sequence[LogColumn], body: Sequence[Sequence[str]], what: str) -> list[str]:
    place = next((place for place, one in enumerate(columns) if one.what == what), None)
    return [] if place is None else [row[place] for row in body if row[place]]


def _questions(columns: Sequence[LogColumn], body: Sequence[Sequence[str]], told: LogSettings) -> tuple[Question, ...]:
    questions = []
    days = _cells(columns, body, "day")
    if told.date_order is None and order_of(days) is None and any(is_ambiguous(cell) for cell in days):
        questions.append(_ASK_ORDER)
    unknown = [one.what for one in columns if one.what in TEMPERATURES and one.unit is None]
    bare = [cell for what in unknown for cell in _cells(columns, body, what) if has_no_unit(cell)]
    if told.temperature_unit is None and bare:
        questions.append(_ASK_UNIT)
    return tuple(questions)


def _read(
    lines: Sequence[tuple[int, Sequence[str]]] | zip[tuple[int, list[str]]],
    columns: Sequence[LogColumn],
    settings: LogSettings,
    own_fuels: Fuels | None,
    named: tuple[tuple[str, str], ...],
) -> ReadLog:
    rows: list[FieldRow] = []
    problems: list[Problem] = []
    for number, cells in lines:
        row, problem = _row(number, cells, columns, settings, own_fuels)
        if row is not None:
            rows.append(row)
        elif problem is not None and len(problems) < MOST_PROBLEMS:
            problems.append(problem)
    return ReadLog(tuple(rows), tuple(problems), (), named)


def _row(
    number: int, cells: Sequence[str], columns: Sequence[LogColumn], settings: LogSettings, own_fuels: Fuels | None
) -> tuple[FieldRow | None, Problem | None]:
    day: date | None = None
    site, fuel, values = "", settings.fuel, {}
    for column, cell in zip(columns, cells, strict=True):
        try:
            if column.what == "day":
                day = day_of(cell, settings.date_order) if cell else None
            elif column.what == "site":
                site = cell[:LONGEST_SITE]
            elif column.what == "fuel":
                fuel = fuel_named(cell, own_fuels).key if cell else settings.fuel
            else:
                values[column.what] = value_of(cell, column, settings)
        except ValueError as error:
            return None, Problem(number, column.header, str(error))
    if math.isnan(values["o2_pct"]):
        return None, Problem(number, "O2", "there is no O2 reading, and nothing can be computed without it.")
    return FieldRow(number, day, site, fuel, **values), None
