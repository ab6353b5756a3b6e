"""Air pressure over height, and what thinner air does to gas volumes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueproof.chemistry.arrays import within
from flueproof.chemistry.shipped_table import shipped_table

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray

KELVIN = 273.15


def standard_pressure_hpa(altitude_m: ArrayLike) -> FloatArray:
    """Return the air pressure of the standard atmosphere [hPa] at a height above the sea [m], -500 to 5000, any shape.

    The weather moves it by about 3 %: take the pressure at the place where it is known. It is not the pressure that a
    weather report gives, which is brought down to sea level.
    Raises: FlueGasError.
    Source: ISO 2533:1975; from memory.
    """
    data = shipped_table("standard_atmosphere")
    height = within(altitude_m, "height above the sea", data["lowest_m"], data["highest_m"], "m")
    exponent = data["gravity_m_s2"] * data["molar_mass_kg"] / (data["r_j_mol_k"] * data["lapse_k_m"])
    share: FloatArray = 1.0 - data["lapse_k_m"] * height / data["sea_level_k"]
    return float(data["sea_level_hpa"]) * share ** float(exponent)


def altitude_m_from_pressure(pressure_hpa: ArrayLike) -> FloatArray:
    """Return the height [m] at which the standard atmosphere has this pressure [hPa], 540 to 1075, any shape.

    Raises: FlueGasError.
    Source: ISO 2533:1975; from memory.
    """
    data = shipped_table("standard_atmosphere")
    pressure = within(pressure_hpa, "air pressure", 540.0, 1075.0, "hPa")
    exponent = data["r_j_mol_k"] * data["lapse_k_m"] / (data["gravity_m_s2"] * data["molar_mass_kg"])
    share: FloatArray = (pressure / data["sea_level_hpa"]) ** exponent
    return (1.0 - share) * float(data["sea_level_k"] / data["lapse_k_m"])


def volume_ratio(temperature_c: ArrayLike, pressure_hpa: ArrayLike) -> FloatArray:
    """Return how many cubic meters at a place one cubic meter at 0 degC and 1013.25 hPa is [-]; shapes that fit.

    temperature_c: of the gas [degC], -50 to 1400; pressure_hpa: absolute [hPa], 500 to 1100. Shares (ppm, %) do not
    change with height; mass per actual cubic meter falls by this ratio.
    Raises: FlueGasError.
    Source: ideal gas.
    """
    kelvin = within(temperature_c, "gas temperature", -50.0, 1400.0, "degC") + KELVIN
    pressure = within(pressure_hpa, "air pressure", 500.0, 1100.0, "hPa, absolute")
    return kelvin / KELVIN * float(shipped_table("standard_atmosphere")["sea_level_hpa"]) / pressure
