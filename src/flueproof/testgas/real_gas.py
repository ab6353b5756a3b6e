"""How far nitrogen and air in a cylinder are from an ideal gas."""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from flueproof.testgas.errors import CylinderError
from flueproof.testgas.shipped_table import shipped_table

FloatArray = NDArray[np.float64]
GAS_NAMES = ("nitrogen", "air")
LOWEST_C, HIGHEST_C = -30.0, 60.0
HIGHEST_KPA = 30_000.0
KELVIN = 273.15
_STEPS = 25


@dataclass(frozen=True, slots=True)
class _Equation:
    reducing_k: float
    reducing_mol_l: float
    gas_constant: float
    n: FloatArray
    d: FloatArray
    t: FloatArray
    l: FloatArray  # noqa: E741 - the published letter


@functools.cache
def _equation(gas: str) -> _Equation:
    if gas not in GAS_NAMES:
        raise CylinderError(f"gas {gas!r} has no gas equation here. Known: {', '.join(GAS_NAMES)}.")
    row = shipped_table("real_gas")[gas]
    n, d, t, l = (np.asarray(row[name], dtype=np.float64) for name in ("n", "d", "t", "l"))  # noqa: E741
    return _Equation(float(row["reducing_k"]), float(row["reducing_mol_l"]), float(row["gas_constant"]), n, d, t, l)


def _z_and_slope(delta: FloatArray, tau: FloatArray, eq: _Equation) -> tuple[FloatArray, FloatArray]:
    """Return Z and dZ/d(delta); shapes (...)."""
    power = delta[..., None] ** eq.l
    damped = eq.l > 0.0
    term = eq.n * delta[..., None] ** eq.d * tau[..., None] ** eq.t * np.where(damped, np.exp(-power), 1.0)
    order = eq.d - np.where(damped, eq.l * power, 0.0)
    slope = (term * (order**2 - np.where(damped, eq.l**2 * power, 0.0))).sum(-1) / delta
    return 1.0 + (term * order).sum(-1), slope


def compressibility(pressure_kpa: ArrayLike, temperature_c: ArrayLike, gas: str = "nitrogen") -> FloatArray:
    """Return the compressibility factor Z = p / (density R T) [-].

    pressure_kpa: absolute [kPa], above 0 to 30,000; temperature_c [degC], -30 to 60; shapes broadcast; gas: `nitrogen`
    or `air` (a blend takes its balance; a few per cent of another gas move Z by less than 0.001).
    Raises: CylinderError outside the range.
    Source: Span et al., J. Phys. Chem. Ref. Data 29 (2000) 1361 (nitrogen); Lemmon et al., ibid. 331 (air).
    """
    pressure, celsius = np.broadcast_arrays(
        np.asarray(pressure_kpa, dtype=np.float64), np.asarray(temperature_c, dtype=np.float64)
    )
    if not np.all((pressure > 0.0) & (pressure <= HIGHEST_KPA)):
        raise CylinderError(f"absolute pressure {pressure_kpa!r} kPa: allowed is above 0 to {HIGHEST_KPA:g} kPa.")
    if not np.all((celsius >= LOWEST_C) & (celsius <= HIGHEST_C)):
        raise CylinderError(
            f"temperature {temperature_c!r} degC: allowed is {LOWEST_C:g} to {HIGHEST_C:g} degC. Let the cylinder "
            "come to room temperature."
        )
    eq = _equation(gas)
    kelvin = celsius + KELVIN
    tau = eq.reducing_k / kelvin
    ideal = pressure / (eq.gas_constant * kelvin) / eq.reducing_mol_l  # kPa / (J/mol) = mol/L
    delta = ideal.copy()
    for _ in range(_STEPS):  # Newton on delta Z(delta) = ideal; above the critical temperature the left side rises
        z, slope = _z_and_slope(delta, tau, eq)
        step = (delta * z - ideal) / (z + delta * slope)
        delta = delta - step
        if np.all(np.abs(step) <= 1e-13 * delta):
            break
    return np.asarray(ideal / delta, dtype=np.float64)
