"""Figures of the flue page as text: rounded by their uncertainty, temperatures in the unit of the page."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from flueproof.analyzer.units import difference_from_core, from_core
from flueproof.chemistry.field.figures import Figure
from flueproof.metrology.rounding import rounded_pair
from flueproof.shop.flue.assumed import K

NOTHING: Final = "–"
SIGNS: Final = {"degF": "°F", "degC": "°C", "1": ""}
_NAMES: Final = {
    "co2": "CO2",
    "excess_air": "Excess air, exact",
    "excess_air_simple": "Excess air, simple form",
    "dew_point": "Dew point",
    "efficiency_german": "Efficiency, net (LHV)",
    "efficiency_net": "Efficiency, net (LHV)",
    "efficiency_condensing_net": "Efficiency, net (LHV)",
    "efficiency_gross": "Efficiency, gross (HHV)",
    "efficiency_condensing_gross": "Efficiency, gross (HHV)",
    "efficiency_heat_loss_method": "Efficiency, gross (HHV)",
    "co_undiluted": "CO undiluted, German form",
}


@dataclass(frozen=True, slots=True)
class Shown:
    """A figure as it stands on the page: number and uncertainty as text, "–" where the core refuses it."""

    key: str
    name: str
    number: str
    expanded: str
    unit: str
    basis: str
    doubtful: bool
    refused: bool


def shown(figure: Figure, unit: str) -> Shown:
    """Return a figure as text; unit: of temperatures on the page."""
    value, expanded, sign = float(figure.value), K * float(figure.u), SIGNS.get(figure.unit, figure.unit)
    if figure.unit == "degC":
        value, expanded, sign = turned(value, unit), difference_from_core(expanded, unit, "temperature"), SIGNS[unit]
    number, wide = pair(value, expanded)
    refused = not math.isfinite(value)
    return Shown(
        figure.key, name_of(figure), number, wide, sign, figure.basis.in_words(), bool(figure.doubtful), refused
    )


def name_of(figure: Figure) -> str:
    """Return what a figure is called on the page."""
    reference = figure.basis.reference_o2_pct
    if figure.key.startswith("co_reference") and reference is not None:
        return f"CO at {reference:g} % O2, {'German' if figure.key.endswith('german') else 'US'} form"
    name = figure.name
    return _NAMES.get(figure.key, name[:1].upper() + name[1:])


def pair(value: float, expanded: float) -> tuple[str, str]:
    """Return value and expanded uncertainty as text [one unit], rounded by the rule of the papers."""
    if not (math.isfinite(value) and math.isfinite(expanded)):
        return NOTHING, ""
    if expanded <= 0.0:
        return signed(f"{value:.5g}"), "0"
    number, wide = rounded_pair(value, expanded)
    return signed(number), wide


def signed(text: str) -> str:
    """Return a number's text with a true minus sign."""
    return text.replace("-", "−")


def turned(value_c: float, unit: str) -> float:
    """Return a temperature [degC] in the unit of the page."""
    return from_core(value_c, unit, "temperature")


def temperature_text(value_c: float, unit: str, decimals: int = 1) -> str:
    """Return a temperature [degC] in the unit of the page, with its sign."""
    number = turned(value_c, unit)
    return f"{signed(f'{number:.{decimals}f}')} {SIGNS[unit]}"
