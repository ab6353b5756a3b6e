"""Which column is which: header words as people and analyzers write them, with the unit in the header."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from flueproof.impact.errors import FieldLogError

WORDS: dict[str, tuple[str, ...]] = {
    "day": ("date", "day", "datum", "tested on", "test date", "date of test", "fecha", "data", "when"),
    "site": (
        "site", "label", "place", "address", "job", "customer", "location", "appliance", "unit", "where", "anlage",
        "ort", "site label", "name",
    ),
    "fuel": ("fuel", "gas type", "brennstoff", "fuel type"),
    "o2_pct": ("o2", "oxygen", "sauerstoff", "o2 dry"),
    "co_ppm": ("co", "carbon monoxide", "kohlenmonoxid", "co measured", "co dry"),
    "no_ppm": ("no", "nitric oxide"),
    "stack_c": (
        "stack", "flue", "stack temperature", "stack temp", "flue temperature", "flue temp", "flue gas temperature",
        "t stack", "t flue", "abgastemperatur", "t gas",
    ),
    "air_c": (
        "air", "ambient", "air temperature", "air temp", "ambient temperature", "ambient temp", "combustion air",
        "room temperature", "t air", "t room", "lufttemperatur", "intake air", "inlet air",
        "combustion air temperature",
    ),
    "own_efficiency_pct": (
        "efficiency", "eff", "eta", "own efficiency", "wirkungsgrad", "combustion efficiency", "efficiency net",
    ),
}  # fmt: skip
"""Own list, from common practice."""
NOT_OURS = ("air free", "air-free", "airfree", "undiluted", "corrected", "unverd", "af")
TEMPERATURES = ("stack_c", "air_c")
_UNITS = {
    "degc": "degC", "c": "degC", "celsius": "degC", "degf": "degF", "f": "degF", "fahrenheit": "degF",
    "ppm": "ppm", "%": "%", "vol": "%", "vol%": "%", "percent": "%", "pct": "%", "ppmv": "ppm",
}  # fmt: skip
_FITS = {
    "o2_pct": ("%",), "co_ppm": ("ppm", "%"), "no_ppm": ("ppm",), "own_efficiency_pct": ("%",),
    "stack_c": ("degC", "degF"), "air_c": ("degC", "degF"),
}  # fmt: skip
_BRACKETED = re.compile(r"^(?P<name>.*?)\s*[\[(](?P<unit>[^\])]*)[\])]\s*$")


@dataclass(frozen=True, slots=True)
class LogColumn:
    """One column: its place from 0, its header as written, what it is (name of FieldRow), its unit or None."""

    place: int
    header: str
    what: str
    unit: str | None


def understood(header: Sequence[str]) -> tuple[LogColumn, ...]:
    """Return the columns that are understood, in their order; others are left alone.

    Raises: FieldLogError where O2 is missing, a quantity comes twice, or a unit does not fit its quantity.
    """
    found: dict[str, LogColumn] = {}
    for place, cell in enumerate(header):
        column = _column(place, cell)
        if column is None:
            continue
        if column.what in found:
            raise FieldLogError(
                f"{found[column.what].header!r} and {column.header!r} both look like {column.what.split('_')[0]}: "
                "rename or remove one of them.",
                line=1,
                column=column.header,
            )
        found[column.what] = column
    if "o2_pct" not in found:
        raise FieldLogError(
            "no column with O2 was found. Name the columns in the first line: date, site, fuel, O2, CO, stack, air, "
            "efficiency.",
            line=1,
        )
    return tuple(found.values())


def _column(place: int, cell: str) -> LogColumn | None:
    name, unit = _name_and_unit(cell)
    if any(_holds(name, word) for word in NOT_OURS):
        return None
    for what, words in WORDS.items():
        if name in words:
            if unit is not None and what in _FITS and unit not in _FITS[what]:
                raise FieldLogError(
                    f"{cell!r} is in {unit}; give it in {' or '.join(_FITS[what])}.", line=1, column=cell
                )
            return LogColumn(place, cell, what, unit)
    return None


def _holds(name: str, word: str) -> bool:
    return re.search(rf"(^| ){re.escape(word)}", name) is not None


def _name_and_unit(cell: str) -> tuple[str, str | None]:
    text = _plain(cell)
    bracketed = _BRACKETED.match(text)
    if bracketed is not None:
        return _plain(bracketed["name"]), _unit(bracketed["unit"])
    words = text.split(" ")
    if len(words) > 1 and _unit(words[-1]) is not None:
        return " ".join(words[:-1]), _unit(words[-1])
    return text, None


def _unit(text: str) -> str | None:
    tight = text.lower().replace("\N{DEGREE SIGN}", "").replace("deg ", "deg").replace(" ", "").strip(".-")
    return _UNITS.get(tight)


def _plain(cell: str) -> str:
    """Lower case, single spaces, no punctuation between words; subscript and plain 2 are one."""
    text = cell.strip().lower().replace("\N{SUBSCRIPT TWO}", "2").replace("\ufeff", "")
    return " ".join(re.sub(r"[_,;:./-]+", " ", text).split())
