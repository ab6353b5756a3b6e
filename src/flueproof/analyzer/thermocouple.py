"""Thermocouple type K: voltage from temperature, temperature from voltage, cold junction, tolerance of new wire."""

from __future__ import annotations

import functools
import tomllib
from importlib import resources
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from flueproof.analyzer.errors import OutOfTableError

FloatArray = NDArray[np.float64]
LOWEST_C, HIGHEST_C = -270.0, 1372.0
LOWEST_INVERSE_MV, HIGHEST_MV = -5.891, 54.886
_NEWTON_STEPS = 12


@functools.cache
def _table() -> dict[str, Any]:
    text = resources.files("flueproof.analyzer").joinpath("data/type_k.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def emf_mv(temperature_c: ArrayLike) -> FloatArray:
    """Return the voltage of a type K thermocouple, reference junction at 0 degC [mV].

    temperature_c: measuring junction [degC], -270 to 1372, any shape.
    Raises: OutOfTableError outside the range.
    Source: NIST Monograph 175 / SRD 60, type K reference function (IEC 60584-1).
    """
    celsius = np.asarray(temperature_c, dtype=np.float64)
    if not np.all((celsius >= LOWEST_C) & (celsius <= HIGHEST_C)):
        raise OutOfTableError(
            f"temperature {temperature_c!r} degC: type K runs from {LOWEST_C:g} to {HIGHEST_C:g} degC."
        )
    return _forward(celsius)


def _forward(celsius: FloatArray) -> FloatArray:
    a0, a1, a2 = _table()["exponential"]
    above = np.polynomial.polynomial.polyval(celsius, _table()["above_zero"]) + a0 * np.exp(a1 * (celsius - a2) ** 2)
    below = np.polynomial.polynomial.polyval(celsius, _table()["below_zero"])
    return np.asarray(np.where(celsius > 0.0, above, below), dtype=np.float64)


def sensitivity_mv_per_k(temperature_c: ArrayLike) -> FloatArray:
    """Return the slope dE/dt of a type K thermocouple [mV/K].

    temperature_c [degC], -270 to 1372, any shape.
    Raises: OutOfTableError outside the range.
    Source: derivative of the reference function, NIST Monograph 175.
    """
    celsius = np.asarray(temperature_c, dtype=np.float64)
    if not np.all((celsius >= LOWEST_C) & (celsius <= HIGHEST_C)):
        raise OutOfTableError(
            f"temperature {temperature_c!r} degC: type K runs from {LOWEST_C:g} to {HIGHEST_C:g} degC."
        )
    return _slope(celsius)


def _slope(celsius: FloatArray) -> FloatArray:
    a0, a1, a2 = _table()["exponential"]
    derivative = np.polynomial.polynomial.polyder
    above = np.polynomial.polynomial.polyval(celsius, derivative(_table()["above_zero"]))
    above = above + 2.0 * a0 * a1 * (celsius - a2) * np.exp(a1 * (celsius - a2) ** 2)
    below = np.polynomial.polynomial.polyval(celsius, derivative(_table()["below_zero"]))
    return np.asarray(np.where(celsius > 0.0, above, below), dtype=np.float64)


def temperature_c(voltage_mv: ArrayLike) -> FloatArray:
    """Return the temperature of the measuring junction, reference junction at 0 degC [degC].

    voltage_mv [mV], -5.891 to 54.886 (-200 to 1372 degC), any shape.
    Raises: OutOfTableError outside the range.
    Source: NIST SRD 60 inverse polynomials as first guess, then Newton on the reference function.
    """
    voltage = np.asarray(voltage_mv, dtype=np.float64)
    if not np.all((voltage >= LOWEST_INVERSE_MV) & (voltage <= HIGHEST_MV)):
        raise OutOfTableError(
            f"voltage {voltage_mv!r} mV: type K runs from {LOWEST_INVERSE_MV:g} to {HIGHEST_MV:g} mV. Open or reversed "
            "leads?"
        )
    rows = _table()["inverse"]
    conditions = [voltage <= float(row["high_mv"]) for row in rows]
    celsius = np.select(conditions, [np.polynomial.polynomial.polyval(voltage, row["c"]) for row in rows])
    for _ in range(_NEWTON_STEPS):
        step = (_forward(celsius) - voltage) / _slope(celsius)
        celsius = celsius - step
        if np.all(np.abs(step) < 1e-9):
            break
    return np.asarray(celsius, dtype=np.float64)


def temperature_with_cold_junction(measured_mv: ArrayLike, junction_c: ArrayLike) -> FloatArray:
    """Return the measuring junction's temperature where the leads end at a junction that is not at 0 degC [degC].

    measured_mv: at the socket [mV]; junction_c: temperature of the socket [degC]. Voltages are added, never
    temperatures: adding temperatures hides at 200 degC and shows at 60 and 120 degC.
    Raises: OutOfTableError outside the range.
    Source: NIST Monograph 175, section 2 (law of intermediate temperatures), clause from memory.
    """
    return temperature_c(np.asarray(measured_mv, dtype=np.float64) + emf_mv(junction_c))


def tolerance_k(temperature: float, name: str = "class 2") -> float:
    """Return the tolerance of new type K wire [K].

    temperature [degC]; name: `class 1`, `class 2`, `class 3` (IEC) or `standard`, `special` (ASTM).
    Raises: OutOfTableError for an unknown name or a temperature outside the class.
    Source: IEC 60584-1:2013; ASTM E230/E230M; ranges in data/type_k.toml.
    """
    rows = {row["name"]: row for row in _table()["tolerances"]}
    if name not in rows:
        raise OutOfTableError(f"tolerance {name!r} is not known. Known: {', '.join(rows)}.")
    row = rows[name]
    if not row["from"] <= temperature <= row["to"]:
        raise OutOfTableError(f"{temperature:g} degC: {row['source']} runs from {row['from']} to {row['to']} degC.")
    return max(float(row["kelvin"]), float(row["percent"]) / 100.0 * abs(temperature))
