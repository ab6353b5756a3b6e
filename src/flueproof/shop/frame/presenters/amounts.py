"""Temperatures and pressures in the unit that a person chose."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Final

from flueproof.analyzer.units import difference_from_core, from_core

TEMPERATURE_DEFAULT: Final = "degF"
PRESSURE_DEFAULT: Final = "inH2O"
SIGNS: Final = {"degF": "°F", "degC": "°C", "inH2O": "inH₂O", "Pa": "Pa", "mbar": "mbar"}
_DECIMALS: Final = {"degF": 1, "degC": 1, "inH2O": 3, "Pa": 1, "mbar": 3}
NOTHING: Final = "–"


@dataclass(frozen=True, slots=True)
class Amount:
    """A number ready to print, with its unit's sign; both empty-handed ("–", "") when there is no value."""

    number: str
    unit: str

    def __str__(self) -> str:
        """Return number and unit, with a space that does not break."""
        return f"{self.number}\u00a0{self.unit}" if self.unit else self.number


def printed(value: float, decimals: int) -> str:
    """Return a rounded number [any unit] with a true minus sign, never a minus zero."""
    text = f"{value:.{decimals}f}"
    if text.startswith("-"):
        return text[1:] if float(text) == 0 else f"−{text[1:]}"
    return text


def temperature_unit(person: Any) -> str:
    """Return the unit of temperatures for a person: `degF` or `degC`."""
    return str(getattr(person, "temperature_unit", "") or TEMPERATURE_DEFAULT)


def pressure_unit(person: Any) -> str:
    """Return the unit of draft and pressure for a person: `inH2O`, `Pa` or `mbar`."""
    return str(getattr(person, "pressure_unit", "") or PRESSURE_DEFAULT)


def temperature(value_c: float | None, person: Any, decimals: int | None = None) -> Amount:
    """Return a temperature [degC] in the person's unit; `decimals` of the printed number, else the unit's own."""
    unit = temperature_unit(person)
    return _amount(value_c if value_c is None else from_core(float(value_c), unit, "temperature"), unit, decimals)


def temperature_difference(value_k: float | None, person: Any, decimals: int | None = None) -> Amount:
    """Return a temperature difference, limit or uncertainty [K] in the person's unit: it scales, never shifts."""
    unit = temperature_unit(person)
    value = value_k if value_k is None else difference_from_core(float(value_k), unit, "temperature")
    return _amount(value, unit, decimals)


def pressure(value_pa: float | None, person: Any, decimals: int | None = None) -> Amount:
    """Return a draft or pressure, or a difference of two [Pa], in the person's unit."""
    unit = pressure_unit(person)
    return _amount(value_pa if value_pa is None else from_core(float(value_pa), unit, "pressure"), unit, decimals)


def _amount(value: float | None, unit: str, decimals: int | None) -> Amount:
    if value is None or not math.isfinite(value):
        return Amount(NOTHING, "")
    return Amount(printed(value, _DECIMALS[unit] if decimals is None else decimals), SIGNS[unit])
