"""The same page in the other unit of temperature: what was typed is turned, nothing else changes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from flueproof.analyzer.units import difference_from_core, difference_to_core, from_core, to_core
from flueproof.shop.flue.forms.page import METERS_PER_FOOT

OTHER: Final = {"degF": "degC", "degC": "degF"}
_TEMPERATURES: Final = ("stack", "air", "air_stands")
_DIFFERENCES: Final = ("u_stack", "u_air", "by_stack")


def in_other_unit(given: Mapping[str, str], unit: str) -> dict[str, str]:
    """Return what was typed in the other unit; a field that holds no number stays as it is."""
    other = OTHER[unit]
    turned = {**given, "unit": other}
    for name in (*_TEMPERATURES, *_DIFFERENCES, "altitude"):
        number = _number(given.get(name, ""))
        if number is None:
            continue
        if name in _TEMPERATURES:
            number = from_core(to_core(number, unit, "temperature"), other, "temperature")
        elif name in _DIFFERENCES:
            number = difference_from_core(difference_to_core(number, unit, "temperature"), other, "temperature")
        else:
            number = number * METERS_PER_FOOT if unit == "degF" else number / METERS_PER_FOOT
        turned[name] = f"{round(number, 0 if name == 'altitude' else 2):g}"
    return turned


def _number(text: str) -> float | None:
    try:
        return float(text.replace(",", ".").replace("\u2212", "-"))
    except ValueError:
        return None
