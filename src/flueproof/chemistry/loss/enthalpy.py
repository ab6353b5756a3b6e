"""Heat that a gas mixture takes up between two temperatures, from published polynomials."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from flueproof.chemistry.errors import FlueGasError
from flueproof.chemistry.shipped_table import shipped_table

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]

KELVIN: Final = 273.15
COLDEST_C, HOTTEST_C = -50.0, 1400.0


class Mixture(NamedTuple):
    """Enthalpy of an amount of gas as polynomials of the temperature in kelvin [kJ], lowest power first.

    low: up to the temperature where the two sets of coefficients join, high: above it; shape (6,).
    """

    low: FloatArray
    high: FloatArray

    def plus(self, other: Mixture, amount: float = 1.0) -> Mixture:
        """Return this gas together with so many times another one. Source: sum of enthalpies, ideal gas."""
        return Mixture(self.low + amount * other.low, self.high + amount * other.high)


def mixture(moles: Mapping[str, float]) -> Mixture:
    """Return the enthalpy of so many mol of each gas: Ar, CO2, H2O, N2, O2, SO2.

    Source: NASA TM-4513 (1993); ideal gas.
    """
    low, high = (sum(amount * _coefficients(gas)[part] for gas, amount in moles.items()) for part in (0, 1))
    return Mixture(np.asarray(low) + np.zeros(6), np.asarray(high) + np.zeros(6))


def enthalpy_kj(of: Mixture, temperature_c: ArrayLike) -> FloatArray:
    """Return the enthalpy of a mixture [kJ], formation included: only differences mean something.

    temperature_c: [degC], -50 to 1400, any shape.
    Raises: FlueGasError outside it.
    Source: NASA TM-4513 (1993).
    """
    temperature = np.asarray(temperature_c, dtype=np.float64)
    if not np.all((temperature >= COLDEST_C) & (temperature <= HOTTEST_C)):
        raise FlueGasError(f"a gas temperature lies outside {COLDEST_C:g} to {HOTTEST_C:g} degC.")
    return enthalpy_unchecked_kj(of, temperature)


def enthalpy_unchecked_kj(of: Mixture, temperature_c: FloatArray) -> FloatArray:
    """Return the enthalpy as `enthalpy_kj` does, for temperatures that were looked at before [kJ].

    Source: NASA TM-4513 (1993).
    """
    kelvin = temperature_c + KELVIN
    join = float(shipped_table("enthalpy")["join_k"])
    low = _horner(of.low, kelvin)
    if np.max(kelvin, initial=0.0) <= join:
        return low
    return np.where(kelvin <= join, low, _horner(of.high, kelvin))


def _horner(coefficients: FloatArray, kelvin: FloatArray) -> FloatArray:
    total = coefficients[-1] * kelvin
    for factor in coefficients[-2:0:-1]:
        total += factor
        total *= kelvin
    return np.asarray(total + coefficients[0], dtype=np.float64)


@functools.cache
def _coefficients(gas: str) -> tuple[FloatArray, FloatArray]:
    """Return the two polynomials of a mole [kJ/mol], lowest power first."""
    table = shipped_table("enthalpy")
    parts = []
    for part in ("low", "high"):
        a1, a2, a3, a4, a5, a6 = table["species"][gas][part]
        powers = np.array([a6, a1, a2 / 2.0, a3 / 3.0, a4 / 4.0, a5 / 5.0])
        parts.append(powers * table["gas_constant"] / 1000.0)
    return parts[0], parts[1]
