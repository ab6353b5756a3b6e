"""One sheet of a workbook as rows of text, in one pass; formulas are passed over, the values beside them count."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterator, Sequence
from typing import IO, Final

from openpyxl.utils.datetime import from_excel

from flueproof.shop.records.importing.errors import FileRefusedError
from flueproof.shop.records.importing.reading.cells import Day, Number, Unreadable
from flueproof.shop.records.importing.reading.table import MOST_COLUMNS
from flueproof.shop.records.importing.reading.words import parser_without_entities, plain

_BLOCK: Final = 1 << 18  # [bytes]
_MOST_ROWS: Final = 1_048_576
_WHOLE: Final = re.compile(r"-?\d{1,15}(?:\.0*)?", re.ASCII)
_ZEROS: Final = re.compile(r"0{2,}")
_COLUMN: Final = re.compile(r"([A-Z]{1,3})(\d{1,7})", re.ASCII)
_DAY: Final = "day"
NO_VALUE: Final = "formula without a kept value"


def sheet_rows(
    part: IO[bytes], words: Sequence[str], shown_as: Callable[[int], str], epoch: dt.datetime
) -> Iterator[list[str]]:
    """Yield the rows of a sheet from its first on, missing ones as empty.

    words: the workbook's table of texts; shown_as: number of a style -> "day" for dates, else its number format;
    epoch: the day from which the workbook counts.
    Raises: FileRefusedError for too many columns; whatever a broken part leads to.
    """
    sheet = _Sheet(words, shown_as, epoch)
    row = 0
    while True:
        block = part.read(_BLOCK)
        sheet.parser.Parse(block, not block)
        for number, cells in sheet.done:
            for _ in range(row + 1, number):
                yield []
            row = max(number, row + 1)
            yield cells
        sheet.done.clear()
        if not block:
            return


class _Sheet:
    """What the parser is in the middle of."""

    def __init__(self, words: Sequence[str], shown_as: Callable[[int], str], epoch: dt.datetime) -> None:
        self.words, self.shown_as, self.epoch = words, shown_as, epoch
        self.done: list[tuple[int, list[str]]] = []
        self.parser = parser_without_entities()
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._text
        self._names: dict[str, str] = {}
        self._row, self._cells = 0, list[str]()
        self._column, self._kind, self._style = 0, "n", 0
        self._value: list[str] = []
        self._taking = self._formula = self._sound = False

    def _start(self, long_name: str, attributes: dict[str, str]) -> None:
        name = self._names.get(long_name) or self._names.setdefault(long_name, long_name.rpartition(" ")[2])
        if name == "c":
            self._kind, self._style = attributes.get("t", "n"), int(attributes.get("s", 0))
            self._column = _place(attributes["r"]) if "r" in attributes else self._column + 1
            self._value, self._formula = [], False
        elif name in {"v", "t"}:
            self._taking = not self._sound
        elif name == "f":
            self._formula = True
        elif name == "rPh":
            self._sound = True  # how a word is spoken, no part of the text
        elif name == "row":
            self._row = int(attributes.get("r", self._row + 1))
            self._cells, self._column = [], 0

    def _text(self, text: str) -> None:
        if self._taking:
            self._value.append(text)

    def _end(self, long_name: str) -> None:
        name = self._names[long_name]
        if name in {"v", "t"}:
            self._taking = False
        elif name == "rPh":
            self._sound = False
        elif name == "c":
            self._end_of_cell()
        elif name == "row":
            if not 0 < self._row <= _MOST_ROWS:
                raise ValueError(self._row)
            self.done.append((self._row, self._cells))

    def _end_of_cell(self) -> None:
        if self._column > MOST_COLUMNS:
            raise FileRefusedError(
                f"The sheet has more than {MOST_COLUMNS} columns. Take away those that are not needed."
            )
        text = self._shown("".join(self._value)) if self._value else (Unreadable(NO_VALUE) if self._formula else "")
        if text:
            self._cells.extend([""] * (self._column - 1 - len(self._cells)))
            self._cells.append(text)

    def _shown(self, value: str) -> str:
        if self._kind == "s":
            return self.words[int(value)]
        if self._kind in {"str", "inlineStr"}:
            return plain(value)
        if self._kind == "b":
            return "yes" if value == "1" else "no"
        if self._kind == "e":
            return Unreadable(value)
        if self._kind == "d":
            return Day(dt.datetime.fromisoformat(value).date().isoformat())
        return _number(value, self.shown_as(self._style), self.epoch)


def _place(reference: str) -> int:
    """Return the number of the column of "AB12"."""
    found = _COLUMN.fullmatch(reference)
    if found is None:
        raise ValueError(reference)
    place = 0
    for letter in found[1]:
        place = place * 26 + ord(letter) - ord("A") + 1
    return place


def _number(value: str, shown_as: str, epoch: dt.datetime) -> str:
    """Return a number as the spreadsheet shows it where it is a date or shown with zeros in front, else a Number."""
    if shown_as == _DAY:
        try:
            moment = from_excel(float(value), epoch)
        except (OverflowError, ValueError):
            return Unreadable(f"{value} as a date")
        return Day(moment.date().isoformat()) if isinstance(moment, dt.datetime) else Unreadable(f"{value} as a time")
    if not _WHOLE.fullmatch(value):
        number = float(value)
        return Number(str(int(number)) if number.is_integer() and abs(number) < 10**15 else repr(number))
    whole = value.partition(".")[0]
    if _ZEROS.fullmatch(shown_as) and not whole.startswith("-"):
        return whole.zfill(len(shown_as))
    return Number(whole)
