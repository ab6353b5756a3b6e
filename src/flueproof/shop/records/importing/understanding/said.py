"""What one row says, field by field: texts, days, months; and what of it cannot be read."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass, field
from typing import Any, Final

from django.core.exceptions import ValidationError
from django.core.validators import validate_email

from flueproof.analyzer.profile_reader import shipped_profile_names
from flueproof.shop.records.importing.reading.cells import Day, Number, Unreadable, has_control_sign, trimmed
from flueproof.shop.records.importing.reading.dates import AmbiguousDateError, DateRefusedError, only_order, read_day
from flueproof.shop.records.importing.reading.table import Row
from flueproof.shop.records.importing.understanding.columns import Understanding
from flueproof.shop.records.importing.understanding.fields import BY_NAME, DAY, MAIL, MONTHS, SERIAL, YES_NO, Field
from flueproof.shop.records.keeping.plate_key import plate_key

_NOTHING: Final = {"-", "--", "–", "—", "n/a", "na", "none", "null", "nil", "?"}
_NEVER_NOTHING: Final = {"serial", "owner_name", "owner_note", "analyzer_note", "region"}
_SHORTENED: Final = re.compile(r"\d+(?:[.,]\d+)?[eE]\+\d+")
_FOUR_DIGITS: Final = re.compile(r"\d{4}")
_WHOLE: Final = re.compile(r"\d{1,4}", re.ASCII)
_YES, _NO = {"yes", "y", "true", "1", "x"}, {"no", "n", "false", "0"}


@dataclass(slots=True)
class Said:
    """One row as understood.

    texts: field -> text, empty ones left out; values: field -> day, number of months, or yes/no; errors: what cannot
    be read, in sentences; waiting: dates that wait for the order of day and month; as_number: the serial was kept as
    a number, so zeros in front may be lost; short_year: a date whose year has two digits, with what was made of it;
    shows_order: the only order in which a date of the row is possible, "" when there is none such.
    """

    number: int
    texts: dict[str, str] = field(default_factory=dict)
    values: dict[str, Any] = field(default_factory=dict)
    errors: list[str] = field(default_factory=list)
    waiting: list[AmbiguousDateError] = field(default_factory=list)
    as_number: bool = False
    short_year: tuple[str, dt.date] | None = None
    shows_order: str = ""

    def text(self, name: str) -> str:
        """Return the text of a field, "" when the row has none."""
        return self.texts.get(name, "")


def what_row_says(row: Row, told: Understanding, columns: int, today: dt.date) -> Said:
    """Return what a row says. columns: how many the header has; today: for years of two digits."""
    said = Said(row.number)
    if any(cell.strip() for cell in row.cells[columns:]):
        said.errors.append(f"The row has more cells than the {columns} columns of the header")
    for name, place in told.columns.items():
        cell = trimmed(row.cells[place]) if place < len(row.cells) else ""
        if cell and not (cell.lower() in _NOTHING and name not in _NEVER_NOTHING):
            _take(said, BY_NAME[name], cell, told.date_order, today)
    if said.text("serial") or said.text("model") or said.text("make"):
        for name, text in told.for_all.items():
            if text:
                said.texts.setdefault(name, text)
    _check_profile(said)
    return said


def _take(said: Said, known: Field, cell: str, order: str, today: dt.date) -> None:
    if isinstance(cell, Unreadable):
        said.errors.append(f"{known.label}: the cell has no value ({cell})")
    elif has_control_sign(cell):
        said.errors.append(f"{known.label}: there is a sign in it that cannot be printed")
    elif len(cell) > known.longest:
        said.errors.append(f"{known.label}: {len(cell)} signs, at most {known.longest} can be kept")
    elif known.way == DAY:
        _take_day(said, known, cell, order, today)
    elif known.way == SERIAL:
        _take_serial(said, cell)
    elif known.way == MONTHS:
        months = int(cell) if _WHOLE.fullmatch(cell) else 0
        if 1 <= months <= 120:
            said.values[known.name] = months
        else:
            said.errors.append(f"{known.label}: {cell} is no whole number of months from 1 to 120")
    elif known.way == YES_NO:
        if cell.lower() in _YES | _NO:
            said.values[known.name] = cell.lower() in _YES
        else:
            said.errors.append(f"{known.label}: write yes or no, not {cell}")
    else:
        if known.way == MAIL and not _is_mail(cell):
            said.errors.append(f"{known.label}: {cell} is no e-mail address")
            return
        said.texts[known.name] = str(cell)


def _take_day(said: Said, known: Field, cell: str, order: str, today: dt.date) -> None:
    try:
        said.values[known.name] = day = read_day(cell, order, today)
        if not _FOUR_DIGITS.search(cell):
            said.short_year = cell, day
        said.shows_order = only_order(cell, today)
    except AmbiguousDateError as error:
        said.waiting.append(error)
    except DateRefusedError as error:
        said.errors.append(f"{known.label}: {error}")


def _take_serial(said: Said, cell: str) -> None:
    if isinstance(cell, Day):
        said.errors.append(f"Serial number: the spreadsheet made a date of it ({cell}); type it as text")
    elif (isinstance(cell, Number) and not cell.isdecimal()) or _SHORTENED.fullmatch(cell):
        said.errors.append(f"Serial number: {cell} is a number that lost digits in the spreadsheet; type it as text")
    elif cell[0] in "='":
        said.errors.append(f"Serial number: {cell} begins with {cell[0]}, which no plate does")
    elif "\n" in cell or "\r" in cell:
        said.errors.append("Serial number: there are two lines in one cell")
    elif not plate_key(cell):
        said.errors.append(f"Serial number: {cell} has no letter A to Z and no digit")
    else:
        said.texts["serial"] = str(cell)
        said.as_number = isinstance(cell, Number)


def _check_profile(said: Said) -> None:
    if not (name := said.text("profile")):
        return
    known = "-".join(name.lower().split())
    if known in shipped_profile_names():
        said.texts["profile"] = known
    else:
        said.errors.append(f"Service rules: there is no profile {name}")


def _is_mail(text: str) -> bool:
    try:
        validate_email(text)
    except ValidationError:
        return False
    return True
