"""Many field readings from a CSV file: the same rows, with the figures beside them."""

from __future__ import annotations

import csv
import io
import math
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

import click
import numpy as np

from flueproof.cli.flue.asked import DEGREE, celsius, doubt_of, setting_of
from flueproof.cli.flue.fuels_listed import fuel_named
from flueproof.cli.words.console import finite, print_json
from flueproof.cli.words.faults import Refusal

if TYPE_CHECKING:
    from collections.abc import Mapping

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.field.figures import Figure
    from flueproof.chemistry.fuels.fuel import Fuel

LARGEST_LIST: Final = 64 * 1024 * 1024
COLUMNS: Final = {
    "o2": "o2", "o2_pct": "o2", "co": "co", "co_ppm": "co", "stack": "stack", "stack_c": "stack", "stack_f": "stack",
    "air": "air", "air_c": "air", "air_f": "air", "fuel": "fuel",
}  # fmt: skip


class ReadingList(NamedTuple):
    """A file of readings: its head, its rows as they stood, by quantity the column that holds it, and its signs."""

    head: list[str]
    rows: list[list[str]]
    columns: Mapping[str, int]
    delimiter: str
    decimal: str


def many_readings(path: Path, asked: dict[str, Any], *, as_json: bool) -> None:
    """Compute and print the figures of every row: CSV, or JSON with one object per row.

    Raises: Refusal, ChemistryError, OSError.
    """
    from flueproof.cli.words.files import bytes_of

    listed = read_list(bytes_of(path, LARGEST_LIST, "a list of readings"))
    groups = rows_by_fuel(listed, asked)
    values = {name: _column(listed, name, asked) for name in listed.columns if name != "fuel"}
    figures: dict[str, dict[str, list[float]]] = {}
    notes = [""] * len(listed.rows)
    for fuel, rows in groups:
        here = {name: column[rows] for name, column in values.items()}
        _compute(fuel, rows, here, asked, figures, notes, len(listed.rows))
    if as_json:
        print_json({"readings": [_told(listed, row, figures, notes) for row in range(len(listed.rows))]})
        return
    _write(listed, figures, notes)


def read_list(data: bytes) -> ReadingList:
    """Return a CSV file of readings, comma, semicolon or tab between the cells.

    Raises: Refusal with row and column.
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Refusal("--csv", "the file is not text in UTF-8.", "Save it as CSV, UTF-8.") from None
    first = text.partition("\n")[0]
    delimiter = max((",", ";", "\t"), key=first.count)
    try:
        rows = [row for row in csv.reader(io.StringIO(text), delimiter=delimiter, strict=True) if any(row)]
    except csv.Error as error:
        raise Refusal("--csv", f"the file cannot be read as CSV: {error}.", "Look for a stray quote.") from None
    if len(rows) < 2:
        raise Refusal(
            "--csv", "the file holds no readings.", "Write a head such as o2,co,stack,air and a row for each."
        )
    head, *body = rows
    names = [COLUMNS.get(cell.strip().lower()) for cell in head]
    columns: dict[str, int] = {
        name: names.index(name) for name in ("o2", "co", "stack", "air", "fuel") if name in names
    }
    if "o2" not in columns:
        raise Refusal("row 1", "no column is called o2.", f"Understood are {', '.join(COLUMNS)}.")
    for name in columns:
        if names.count(name) > 1:
            raise Refusal("row 1", f"two columns hold {name}.", "Leave one of them.")
    for number, row in enumerate(body, 2):
        if len(row) != len(head):
            raise Refusal(f"row {number}", f"has {len(row)} cells, the head {len(head)}.", "Correct the row.")
    numbers = [row[place] for row in body for name, place in columns.items() if name != "fuel"]
    decimal = "," if delimiter != "," and any("," in cell for cell in numbers) else "."
    return ReadingList(head, body, columns, delimiter, decimal)


def rows_by_fuel(listed: ReadingList, asked: Mapping[str, Any]) -> list[tuple[Fuel, list[int]]]:
    """Return each fuel of the list with the rows that burn it; the option's where a row names none.

    Raises: Refusal, FuelError.
    """
    place = listed.columns.get("fuel")
    if place is None:
        return [(fuel_named(asked["fuel"]), list(range(len(listed.rows))))]
    named: dict[str, list[int]] = {}
    for number, row in enumerate(listed.rows):
        named.setdefault(row[place].strip(), []).append(number)
    found = []
    for name, rows in named.items():
        where = f"row {rows[0] + 2}, column fuel"
        if Path(name).suffix.lower() == ".toml":
            raise Refusal(where, f"{name!r} is a file.", "Give a fuel of your own with --fuel; rows name shipped ones.")
        found.append((fuel_named(name, where) if name else fuel_named(asked["fuel"]), rows))
    return found


def _column(listed: ReadingList, name: str, asked: Mapping[str, Any]) -> FloatArray:
    place = listed.columns[name]
    title = listed.head[place].strip().lower()
    in_f = title.endswith("_f") or (asked["fahrenheit"] and name in {"stack", "air"} and not title.endswith("_c"))
    values = np.empty(len(listed.rows))
    for number, row in enumerate(listed.rows):
        cell = row[place].strip()
        if not cell:
            values[number] = math.nan
            continue
        try:
            value = float(cell.replace(",", ".") if listed.decimal == "," else cell)
        except ValueError:
            raise Refusal(
                f"row {number + 2}, column {title}", f"{cell!r} is no number.", "Write a number, or leave it empty."
            ) from None
        values[number] = celsius(value) if in_f else value
    return values


def _compute(
    fuel: Fuel,
    rows: list[int],
    here: dict[str, FloatArray],
    asked: dict[str, Any],
    figures: dict[str, dict[str, list[float]]],
    notes: list[str],
    count: int,
) -> None:
    from flueproof.chemistry.field.figures import field_figures
    from flueproof.chemistry.field.looking import look_over

    for row, note in zip(rows, look_over(here).notes(), strict=True):
        notes[row] = note
    mean_air = float(np.nanmean(here["air"])) if "air" in here and np.isfinite(here["air"]).any() else None
    setting = setting_of(fuel, asked, mean_air)
    sane = {name: np.nan_to_num(value, nan=0.0, posinf=0.0, neginf=0.0) for name, value in here.items()}
    for figure in field_figures(setting, here, doubt_of(asked, sane)).values():
        blank = {"value": [math.nan] * count, "u": [math.nan] * count}
        shown = figures.setdefault(_title(figure, asked), blank)
        value, u = _in_unit(figure, asked)
        for place, row in enumerate(rows):
            shown["value"][row], shown["u"][row] = float(value[place]), float(u[place])


def _in_unit(figure: Figure, asked: Mapping[str, Any]) -> tuple[FloatArray, FloatArray]:
    if figure.unit == "degC" and asked["fahrenheit"]:
        return figure.value * DEGREE + 32.0, figure.u * DEGREE
    return figure.value, figure.u


def _title(figure: Figure, asked: Mapping[str, Any]) -> str:
    units = {"%": "pct", "degC": "f" if asked["fahrenheit"] else "c", "1": "", "mg/m3": "", "mg/kWh": "", "ng/J": "",
             "lb/MMBtu": ""}  # fmt: skip
    unit = units.get(figure.unit, figure.unit)
    basis = {"german": "_net"}.get(figure.key.rpartition("_")[2], "")
    return f"{figure.key}{basis}_{unit}" if unit else figure.key


def _told(listed: ReadingList, row: int, figures: Mapping[str, Any], notes: list[str]) -> dict[str, Any]:
    given = dict(zip((cell.strip() for cell in listed.head), listed.rows[row], strict=True))
    found = {
        title: {"value": finite(shown["value"][row]), "u": finite(shown["u"][row])} for title, shown in figures.items()
    }
    return {"given": given, "figures": found, "note": notes[row]}


def _write(listed: ReadingList, figures: Mapping[str, Any], notes: list[str]) -> None:
    out = io.StringIO()
    writer = csv.writer(out, delimiter=listed.delimiter, lineterminator="\n")
    head = [name for title in figures for name in (title, f"u_{title}")]
    writer.writerow([*listed.head, *head, "note"])
    for number, row in enumerate(listed.rows):
        cells = [_cell(shown[part][number], listed.decimal) for shown in figures.values() for part in ("value", "u")]
        writer.writerow([*row, *cells, notes[number]])
    click.echo(out.getvalue(), nl=False)


def _cell(value: float, decimal: str) -> str:
    return "" if math.isnan(value) else f"{value:.6g}".replace(".", decimal)
