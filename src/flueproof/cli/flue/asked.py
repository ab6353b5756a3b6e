"""From options to what chemistry is asked: the setting of the readings, their units, their uncertainty."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from flueproof.cli.words.faults import Refusal

if TYPE_CHECKING:
    from collections.abc import Mapping

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.field.setting import Setting
    from flueproof.chemistry.fuels.fuel import Fuel
    from flueproof.chemistry.uncertainty.doubt import Doubt

DEGREE: Final = 1.8
FREEZING_F: Final = 32.0


def celsius(fahrenheit: float) -> float:
    """Return a temperature in degC."""
    return (fahrenheit - FREEZING_F) / DEGREE


def fahrenheit(celsius_: float) -> float:
    """Return a temperature in degF."""
    return celsius_ * DEGREE + FREEZING_F


def setting_of(fuel: Fuel, asked: Mapping[str, Any], air_c: float | None) -> Setting:
    """Return fuel and surroundings as the options give them; the air's water needs its temperature.

    Raises: Refusal, ChemistryError.
    """
    from flueproof.chemistry.combustion.air import DRY_AIR
    from flueproof.chemistry.field.setting import Setting
    from flueproof.chemistry.moisture.dew_point import NORMAL_HPA
    from flueproof.chemistry.surroundings.altitude import standard_pressure_hpa
    from flueproof.chemistry.surroundings.room_air import combustion_air_at

    pressure = asked["pressure_hpa"] if asked["pressure_hpa"] is not None else NORMAL_HPA
    if asked["altitude_m"] is not None:
        pressure = float(standard_pressure_hpa(asked["altitude_m"]))
    air = DRY_AIR
    if asked["humidity"] is not None:
        if air_c is None:
            raise Refusal("--humidity", "stands without the air's temperature.", "Give --air, or leave it out.")
        air = combustion_air_at(air_c, asked["humidity"], pressure)
    return Setting(fuel, air, pressure, asked["reference_o2"], asked["radiation"])


def doubt_of(asked: Mapping[str, Any], readings: Mapping[str, float | FloatArray]) -> Doubt:
    """Return the uncertainty of readings [degC] as the options give it; `u_leak` is in % of the sample.

    Raises: ChemistryError.
    """
    from flueproof.chemistry.uncertainty.doubt import Doubt, common_leak

    u = {}
    for name in readings:
        value = asked.get(f"u_{name}")
        if value is not None:
            u[name] = value / DEGREE if asked["fahrenheit"] and name in {"stack", "air"} else value
    if not asked["u_leak"]:
        return Doubt(u)
    gases = {name: readings[name] for name in ("co",) if name in readings}
    return Doubt(u, (common_leak(readings["o2"], asked["u_leak"] / 100.0, gases),))
