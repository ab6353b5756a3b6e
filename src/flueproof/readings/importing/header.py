"""The header of a trace file: names, units and where the readings begin."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from flueproof.readings.errors import TraceFileError
from flueproof.readings.importing.text import Row

# Unit as we write it -> as loggers write it, lower case (own list).
SPELLINGS = {
    "ppm": ("ppm", "vpm"),
    "%": ("%", "pct", "vol%", "vol.%", "vol.-%", "vol-%", "% vol"),
    "s": ("s", "sec", "secs", "second", "seconds", "sek"),
    "ms": ("ms",),
    "min": ("min", "mins", "minutes"),
    "h": ("h",),
    "degC": ("degc", "°c", "c", "deg c"),
    "degF": ("degf", "°f", "f", "deg f"),
    "K": ("k",),
    "Pa": ("pa",),
    "hPa": ("hpa",),
    "kPa": ("kpa",),
    "mbar": ("mbar",),
    "psi": ("psi",),
    "mmH2O": ("mmh2o",),
    "inH2O": ("inh2o", "inwc", "in h2o", "in wc"),
    "hh:mm:ss": ("hh:mm:ss", "h:m:s"),
    "mm:ss": ("mm:ss",),
    "hh:mm": ("hh:mm",),
    "l/min": ("l/min",),
    "mV": ("mv",),
}
UNITS = {written: unit for unit, spellings in SPELLINGS.items() for written in spellings}
TIME_NAMES = frozenset(
    ("time", "t", "elapsed", "elapsed time", "seconds", "clock", "timestamp", "time stamp", "datetime", "date time")
) | {"date/time", "zeit", "uhrzeit", "zeitstempel", "temps", "heure", "tiempo", "hora", "ora", "tid", "tijd"}
DATE_NAMES = frozenset({"date", "datum", "day", "fecha", "data", "dato"})
BRACKETED = re.compile(r"^(?P<name>.*?)\s*[\[(](?P<unit>[^\])]*)[\])]\s*$")


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a file.

    place: 0 for the first; header: as written; name: header without the unit; unit: as we write it, or None [-].
    Source: own table.
    """

    place: int
    header: str
    name: str
    unit: str | None

    def answers_to(self, asked: str) -> bool:
        """Tell whether a name asked for means this column: header, name, name_unit or number (own rule [-])."""
        wanted = _plain(asked)
        names = {_plain(self.header), _plain(self.name), str(self.place + 1)}
        if self.unit:
            names.add(_plain(f"{self.name}_{self.unit}"))
        return wanted in names

    @property
    def is_time(self) -> bool:
        """Whether the name is one of a time column (own list; no unit [-])."""
        return self.name.lower().strip(" .:") in TIME_NAMES

    @property
    def is_date(self) -> bool:
        """Whether the name is one of a date column (own list; no unit [-])."""
        return self.name.lower().strip(" .:") in DATE_NAMES


def _plain(text: str) -> str:
    return re.sub(r"[^a-z0-9%°]+", "_", text.lower()).strip("_")


def known_unit(text: str) -> str | None:
    """Return a unit as we write it [-], None when the text is none.

    Source: own table SPELLINGS.
    """
    tight = " ".join(text.lower().split())
    return UNITS.get(tight) or UNITS.get(tight.replace(" ", ""))


def column_of(place: int, header: str, unit_text: str = "") -> Column:
    """Return a column from its header, such as `CO [ppm]`, `CO (ppm)`, `CO/ppm`, `co_ppm` or `CO ppm`.

    place: 0 for the first; header: as written; unit_text: from a row of units below the header [-].
    Source: own rule.
    """
    unit = known_unit(unit_text.strip("[]() ")) if unit_text else None
    bracketed = BRACKETED.match(header)
    if bracketed and (found := known_unit(bracketed["unit"])):
        return Column(place, header, bracketed["name"].strip(), found)
    for mark in ("/", "_", " "):
        name, _, tail = header.rpartition(mark)
        found = known_unit(tail)
        if name and found and not (mark == "/" and "date" in name.lower()):
            return Column(place, header, name.strip(" ,"), found)
    return Column(place, header, header, unit)


def split_header(rows: Sequence[Row], is_reading: Sequence[bool]) -> tuple[tuple[Column, ...], int]:
    """Return the columns and the place of the first row with readings.

    rows: of the file; is_reading: per row whether it looks like time and readings. Lines above the header (serial,
    date, operator) are passed over; a row of units under the header is understood.
    Raises: TraceFileError when no row looks like readings.
    Source: own rule [-].
    """
    if not any(is_reading):
        raise TraceFileError(
            "no row has a time and a reading.",
            "Give a column of seconds or clock times and one column for each channel.",
            row=rows[0].number if rows else None,
        )
    first = list(is_reading).index(True)
    width = len(rows[first].cells)
    above = [row for row in rows[:first] if len(row.cells) >= min(2, width)]
    if not above:
        return tuple(Column(place, f"column {place + 1}", f"column {place + 1}", None) for place in range(width)), first
    units: tuple[str, ...] = ()
    if len(above) > 1 and all(not cell or known_unit(cell.strip("[]() ")) for cell in above[-1].cells):
        units = above.pop().cells
    names = [*above[-1].cells, *([""] * width)][:width]
    units = tuple([*units, *([""] * width)][:width])
    columns = tuple(
        column_of(place, name or f"column {place + 1}", unit)
        for place, (name, unit) in enumerate(zip(names, units, strict=True))
    )
    return columns, first
