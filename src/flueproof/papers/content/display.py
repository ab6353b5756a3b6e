"""Quantities as the shop prints them: unit chosen, rounded by the rule, decimals padded for alignment."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Final

from flueproof.analyzer.units import difference_from_core, from_core, units_of
from flueproof.metrology.rounding import rounded_pair

MINUS: Final = "\u2212"
DASH: Final = "\u2013"
_US: Final = {"degC": "degF", "Pa": "inH2O"}
_SIGNS: Final = {
    "degC": "\u00b0C", "degF": "\u00b0F", "inH2O": "inH\u2082O", "mmH2O": "mmH\u2082O", "%": "%", "ppm": "ppm",
    "Pa": "Pa", "hPa": "hPa", "kPa": "kPa", "mbar": "mbar", "K": "K", "psi": "psi",
}  # fmt: skip
_NAMES: Final = {
    "o2": "O\u2082", "co": "CO", "no": "NO", "no2": "NO\u2082", "so2": "SO\u2082", "co2": "CO\u2082", "h2": "H\u2082",
    "stack": "Stack temperature", "air": "Air temperature", "draft": "Draft", "co_high": "CO, high range",
    "nitrogen": "nitrogen",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Display:
    """How one core unit is printed: the unit's key and sign."""

    core: str
    key: str
    sign: str

    def value(self, core_value: float) -> float:
        """Return a value in the printed unit.

        Source: conventional factors of analyzer/units.py.
        """
        return float(from_core(core_value, self.key, self.core))

    def difference(self, core_difference: float) -> float:
        """Return a difference (error, uncertainty, limit) in the printed unit: scaled, never shifted.

        Source: conventional factors of analyzer/units.py.
        """
        return float(difference_from_core(core_difference, self.key, self.core))


def display_of(core_unit: str, units: str) -> Display:
    """Return how a core unit ("%", "ppm", "degC", "Pa") is printed in "us" or "si" units.

    units: or one unit's own key ("mbar"), which counts for the quantity it belongs to.
    Source: common practice, no source.
    """
    key = _US.get(core_unit, core_unit) if units == "us" else core_unit
    if units not in {"us", "si"} and units in units_of(core_unit):
        key = units
    return Display(core_unit, key, _SIGNS.get(key, key))


def unit_sign(unit: str) -> str:
    """Return the sign of a unit as printed: "degC" becomes the degree sign with C.

    Source: SI Brochure, 9th edition, table 4 (from memory).
    """
    return _SIGNS.get(unit, unit)


def name_of(channel: str, title: str | None = None) -> str:
    """Return what a channel is called on paper: the profile's title, or its formula.

    Source: common practice, no source.
    """
    return _NAMES.get(channel) or title or channel


def signed(text: str) -> str:
    """Return a number's text with a true minus sign.

    Source: common practice, no source.
    """
    return MINUS + text[1:] if text.startswith("-") else text


def rounded(value: float, expanded: float) -> tuple[str, str]:
    """Return value and expanded uncertainty [one unit] as printed: U to two digits, the value to the same place.

    Source: JCGM 100:2008, 7.2.6, through metrology.rounding.
    """
    if not math.isfinite(value):
        return DASH, DASH
    if not (math.isfinite(expanded) and expanded > 0):
        return signed(f"{value:.4g}"), DASH
    value_text, expanded_text = rounded_pair(value, expanded)
    return signed(value_text), expanded_text


def to_places(value: float, like: str) -> str:
    """Return a number with as many decimals as `like` shows.

    Source: common practice, no source.
    """
    if not math.isfinite(value):
        return DASH
    decimals = len(like.partition(".")[2]) if like != DASH else 2
    shown = f"{value:.{decimals}f}"
    if float(shown) == 0.0:
        shown = shown.lstrip("-")
    return signed(shown)


def plain_number(value: float, digits: int = 4) -> str:
    """Return a number with up to `digits` significant digits, no exponent for common sizes.

    Source: common practice, no source.
    """
    if not math.isfinite(value):
        return DASH
    return signed(f"{value:.{digits}g}" if abs(value) < 10**digits else f"{value:.0f}")


def aligned(texts: Iterable[str]) -> list[dict[str, Any]]:
    """Return cells whose hidden padding brings all decimal signs of a column under each other.

    Each cell is {"t": text, "pad": what to set invisibly after it}.
    Source: common practice, no source.
    """
    column = list(texts)
    lasts = [text.rpartition(" / ")[2] for text in column]  # of "391.8 / 391.6" the last number is aligned
    most = max((len(last.partition(".")[2]) for last in lasts), default=0)
    cells = []
    for text, last in zip(column, lasts, strict=True):
        whole, dot, decimals = last.partition(".")
        if not any(sign.isdigit() for sign in whole):
            cells.append({"t": text, "pad": ""})
            continue
        missing = most - len(decimals)
        cells.append({"t": text, "pad": ("" if dot or most == 0 else ".") + "0" * missing})
    return cells
