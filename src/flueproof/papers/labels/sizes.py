"""Label sizes and sheets, read from a data file so that a shop can add its own."""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass, fields
from functools import cache
from importlib import resources
from typing import Any, TypeVar

from flueproof.papers.errors import LabelSizeError

LEAST_WIDTH_MM = 40.0
LEAST_HEIGHT_MM = 20.0


@dataclass(frozen=True, slots=True)
class LabelSize:
    """One sticker: width, height, clear margin [mm], dots of the label printer [1/mm], source of the figures."""

    width_mm: float
    height_mm: float
    margin_mm: float
    dots_per_mm: int
    source: str


@dataclass(frozen=True, slots=True)
class SheetLayout:
    """A sheet of stickers: paper, columns and rows [-], one sticker's size, first corner and pitch [mm]."""

    paper: str
    columns: int
    rows: int
    width_mm: float
    height_mm: float
    margin_mm: float
    left_mm: float
    top_mm: float
    pitch_x_mm: float
    pitch_y_mm: float
    source: str

    @property
    def places(self) -> int:
        """How many stickers a sheet holds [-] (own rule)."""
        return self.columns * self.rows


Sized = TypeVar("Sized", LabelSize, SheetLayout)


@dataclass(frozen=True, slots=True)
class SizeTable:
    """All sizes of a file by name."""

    single: dict[str, LabelSize]
    sheet: dict[str, SheetLayout]

    def label(self, name: str) -> LabelSize:
        """Return a sticker's size [mm] by name.

        Raises: LabelSizeError.
        Source: data/label_sizes.toml.
        """
        return _named(self.single, name, "label size")

    def layout(self, name: str) -> SheetLayout:
        """Return a sheet [mm] by name.

        Raises: LabelSizeError.
        Source: data/label_sizes.toml.
        """
        return _named(self.sheet, name, "label sheet")


@cache
def shipped_sizes() -> SizeTable:
    """Return the sizes [mm] that come with the program.

    Source: data/label_sizes.toml.
    """
    text = resources.files("flueproof.papers").joinpath("data/label_sizes.toml").read_text(encoding="utf-8")
    return read_sizes(text, "label_sizes.toml")


def read_sizes(text: str, where: str) -> SizeTable:
    """Return the sizes [mm] written in a TOML text; `where` names it in messages.

    Raises: LabelSizeError with the key.
    Source: own format.
    """
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as trouble:
        raise LabelSizeError(f"{where} is no TOML: {trouble}") from trouble
    single = {
        name: _sized(LabelSize, entry, f"{where}: single.{name}") for name, entry in raw.get("single", {}).items()
    }
    sheet = {name: _sized(SheetLayout, entry, f"{where}: sheet.{name}") for name, entry in raw.get("sheet", {}).items()}
    return SizeTable(single, sheet)


def _named(table: dict[str, Sized], name: str, what: str) -> Sized:
    if name not in table:
        raise LabelSizeError(f"{what} {name!r} is not known; known are {', '.join(sorted(table))}")
    return table[name]


def _sized(kind: type[Sized], entry: Any, where: str) -> Sized:
    if not isinstance(entry, dict):
        raise LabelSizeError(f"{where} is a table of sizes, got {entry!r}")
    wanted = {field.name for field in fields(kind)}
    if set(entry) != wanted:
        odd = sorted(set(entry) ^ wanted)
        raise LabelSizeError(f"{where}: missing or unknown: {', '.join(odd)}; needed are {', '.join(sorted(wanted))}")
    for key, value in entry.items():
        number = isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)
        if key not in {"paper", "source"} and not (number and value >= 0):
            raise LabelSizeError(f"{where}.{key} is {value!r}; give a number, 0 or more")
    made = kind(**entry)
    if made.width_mm < LEAST_WIDTH_MM or made.height_mm < LEAST_HEIGHT_MM:
        raise LabelSizeError(
            f"{where} is {made.width_mm:g} by {made.height_mm:g} mm; a sticker needs at least {LEAST_WIDTH_MM:g} by "
            f"{LEAST_HEIGHT_MM:g} mm to stay readable"
        )
    return made
