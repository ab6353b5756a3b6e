"""Numbers of this page as text: in the person's unit, rounded by their uncertainty, a dash where nothing is known."""

from __future__ import annotations

import math
from typing import Final

from flueproof.analyzer.units import difference_from_core, from_core
from flueproof.impact.statements.limits import UNITS
from flueproof.metrology.rounding import rounded_pair
from flueproof.shop.impact.forms.numbers import SIGNS

NOTHING: Final = "\N{EN DASH}"
_SHOWN_PLACES: Final = {"ppm": 1, "%": 1, "degC": 0}


def sign_of(quantity: str, unit: str) -> str:
    """Return the unit's sign of a quantity; unit: the person's for temperatures."""
    core = UNITS[quantity]
    return SIGNS[unit] if core == "degC" else core


def turned(value: float, quantity: str, unit: str) -> float:
    """Return a value [core unit of the quantity] in the person's unit."""
    return float(from_core(value, unit, "temperature")) if UNITS[quantity] == "degC" else value


def turned_width(width: float, quantity: str, unit: str) -> float:
    """Return an uncertainty [core unit of the quantity] in the person's unit: it scales and never shifts."""
    return float(difference_from_core(width, unit, "temperature")) if UNITS[quantity] == "degC" else width


def shown_text(value: float, quantity: str, unit: str) -> str:
    """Return a value as it was shown, as text."""
    if not math.isfinite(value):
        return NOTHING
    return signed(f"{turned(value, quantity, unit):.{_SHOWN_PLACES[UNITS[quantity]]}f}")


def pair_text(value: float, expanded: float, quantity: str, unit: str) -> tuple[str, str]:
    """Return a corrected value and its expanded uncertainty as texts, rounded as on the papers; a dash for nothing."""
    if not (math.isfinite(value) and math.isfinite(expanded)):
        return NOTHING, ""
    wide = turned_width(expanded, quantity, unit)
    if wide <= 0.0:
        return shown_text(value, quantity, unit), "0"
    number, width = rounded_pair(turned(value, quantity, unit), wide)
    return signed(number), width


def difference_text(value_k: float, expanded_k: float, unit: str) -> tuple[str, str]:
    """Return a temperature difference [K] and its expanded uncertainty [K] as texts in the person's unit."""
    value, wide = (float(difference_from_core(one, unit, "temperature")) for one in (value_k, expanded_k))
    number, width = rounded_pair(value, wide) if wide > 0.0 else (f"{value:.1f}", "0")
    return signed(number), width


def signed(text: str) -> str:
    """Return a number's text with a true minus sign, never a minus zero."""
    if text.startswith("-") and float(text) == 0.0:
        return text[1:]
    return text.replace("-", "\N{MINUS SIGN}")
