"""A log worked through, as the page prints it: counts, the rows that are asked for, the picture."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.impact.correcting.corrected import QUANTITIES
from flueproof.impact.correcting.over_time import COURSE_HEADS, COURSE_WORDS
from flueproof.impact.field_log.results import LogResult, RowResult
from flueproof.impact.statements.changes import CHANGES, DANGER
from flueproof.impact.statements.limits import NAMES
from flueproof.impact.statements.wording import HEADS, limit_in_words
from flueproof.pictures.errors import EmptyPictureError
from flueproof.pictures.picture import Picture
from flueproof.shop.frame.presenters.moments import day_text
from flueproof.shop.impact.drawing.shown_picture import Mark, shown_picture
from flueproof.shop.impact.presenters.figures import pair_text, shown_text, sign_of, turned, turned_width

PAGE: Final = 100
ALARMS: Final = "alarms"
_TABLE_ROWS: Final = 60


@dataclass(frozen=True, slots=True)
class Cell:
    """One quantity of a row: its head, as shown, and for each course value and expanded uncertainty as text."""

    head: str
    shown: str
    corrected: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class Line:
    """One reading of the list, ready to print."""

    line: int
    day: str
    site: str
    fuel: str
    head: str
    danger: bool
    said: tuple[tuple[str, str], ...]
    cautions: tuple[str, ...]
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """One choice of a list: value, words, whether it is chosen."""

    value: str
    words: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class Worked:
    """A log worked through, as the page shows it."""

    readings: int
    alarms: int
    counts: tuple[tuple[str, int, bool], ...]
    shows: tuple[Choice, ...]
    quantities: tuple[Choice, ...]
    heads: tuple[str, ...]
    courses: tuple[str, ...]
    lines: tuple[Line, ...]
    first: int
    last: int
    shown: int
    earlier: str
    later: str
    picture: Picture | None
    limits: tuple[str, ...]
    conventions: tuple[str, ...]
    notes: tuple[str, ...]


def worked(result: LogResult, asked: Any, unit: str, fuels: Mapping[str, Fuel]) -> Worked:
    """Return a log as the page shows it.

    asked: what was sent: `show` (alarms, or one of CHANGES), `site`, `quantity` of the picture, `first` row from 0;
    fuels: by key, for their names.
    """
    show, site = str(asked.get("show", "")), str(asked.get("site", "")).strip()
    rows = [one for one in result.rows if _is_shown(one, show) and site.lower() in one.row.site.lower()]
    quantity = str(asked.get("quantity", ""))
    quantity = quantity if quantity in QUANTITIES else _first_quantity(result)
    first = _first(str(asked.get("first", "")), len(rows))
    columns = _columns(result, quantity)
    return Worked(
        readings=len(result.rows),
        alarms=len(result.danger),
        counts=tuple((HEADS[name], result.counts[name], name in DANGER) for name in CHANGES if result.counts[name]),
        shows=_shows(result, show),
        quantities=tuple(Choice(key, NAMES[key], key == quantity) for key in QUANTITIES),
        heads=tuple(f"{NAMES[name]}, {sign_of(name, unit)}" for name in columns),
        courses=tuple(COURSE_WORDS[name] for name in result.courses),
        lines=tuple(_line(one, result, columns, unit, fuels) for one in rows[first : first + PAGE]),
        first=first + 1 if rows else 0,
        last=min(first + PAGE, len(rows)),
        shown=len(rows),
        earlier=str(max(first - PAGE, 0)) if first else "",
        later=str(first + PAGE) if first + PAGE < len(rows) else "",
        picture=_picture(result, quantity, unit),
        limits=tuple(limit_in_words(limit) for limit in result.limits),
        conventions=tuple(result.conventions.values()),
        notes=result.notes,
    )


def cell_of(one: RowResult, name: str, courses: tuple[str, ...], unit: str) -> Cell:
    """Return one quantity of a reading: as shown and as corrected in each course."""
    corrected = tuple(
        (COURSE_HEADS[course], *pair_text(*one.corrected[course][name], name, unit)) for course in courses
    )
    return Cell(f"{NAMES[name]}, {sign_of(name, unit)}", shown_text(one.shown[name], name, unit), corrected)


def _is_shown(one: RowResult, show: str) -> bool:
    if show == ALARMS:
        return one.is_danger
    return show not in CHANGES or one.worst == show


def _first(text: str, count: int) -> int:
    first = int(text) if text.isdecimal() and len(text) < 7 else 0
    return first if first < count else 0


def _first_quantity(result: LogResult) -> str:
    return result.limits[0].quantity if result.limits else "co_air_free_ppm"


def _columns(result: LogResult, quantity: str) -> tuple[str, ...]:
    """What stands in the table: the limited quantities, the one of the picture, and what was read."""
    chosen = [limit.quantity for limit in result.limits] + [quantity, "co_ppm", "o2_pct"]
    return tuple(dict.fromkeys(chosen))


def _shows(result: LogResult, show: str) -> tuple[Choice, ...]:
    chosen = show if show == ALARMS or show in CHANGES else ""
    rows = [Choice("", f"all {len(result.rows)}", chosen == "")]
    rows.append(Choice(ALARMS, f"to be tested again: {len(result.danger)}", chosen == ALARMS))
    rows += [Choice(name, f"{HEADS[name]}: {count}", chosen == name) for name, count in result.counts.items() if count]
    return tuple(rows)


def _line(one: RowResult, result: LogResult, columns: tuple[str, ...], unit: str, fuels: Mapping[str, Fuel]) -> Line:
    return Line(
        one.row.line,
        day_text(one.row.day, short=True) if one.row.day is not None else "no date",
        one.row.site,
        fuels[one.row.fuel].name if one.row.fuel in fuels else one.row.fuel,
        HEADS[one.worst],
        one.is_danger,
        tuple((change.limit.name, change.words) for change in one.changes),
        one.cautions,
        tuple(cell_of(one, name, result.courses, unit) for name in columns),
    )


def _picture(result: LogResult, name: str, unit: str) -> Picture | None:
    marks = [_mark(one, name, unit) for one in result.rows]
    limits = sorted({turned(limit.value, name, unit) for limit in result.limits if limit.quantity == name})
    header = ("Date", "Site", "Shown", *(COURSE_HEADS[course] for course in result.courses))
    rows = [_table_row(one, name, result.courses, unit) for one in result.rows[:_TABLE_ROWS]]
    try:
        return shown_picture(NAMES[name], sign_of(name, unit), marks, limits, rows, header)
    except EmptyPictureError:
        return None


def _mark(one: RowResult, name: str, unit: str) -> Mark:
    full, wide = one.corrected["full"][name]
    before = one.corrected["not_yet"][name][0]
    return Mark(
        turned(one.shown[name], name, unit),
        turned(full, name, unit),
        turned_width(wide, name, unit) if math.isfinite(wide) else 0.0,
        turned(before, name, unit),
        one.is_danger,
        one.worst in {"still-outside", "lower-not-cleared"},
    )


def _table_row(one: RowResult, name: str, courses: tuple[str, ...], unit: str) -> tuple[str, ...]:
    cell = cell_of(one, name, courses, unit)
    day = day_text(one.row.day, short=True) if one.row.day is not None else "no date"
    corrected = (f"{value} ± {wide}" if wide else value for _, value, wide in cell.corrected)
    return day, one.row.site, cell.shown, *corrected
