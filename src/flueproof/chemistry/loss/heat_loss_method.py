"""Flue loss by the heat-loss method of US power test codes: gross basis, mean heats in Btu, lb and degF."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from flueproof.chemistry.arrays import within
from flueproof.chemistry.loss.german import refuse_cold_stack
from flueproof.chemistry.loss.loss import Loss, radiation_as_given
from flueproof.chemistry.shipped_table import shipped_table

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.combustion.flue_gas import FlueGas
    from flueproof.chemistry.fuels.fuel import Fuel

METHOD: Final = "heat-loss method"
KJ_KG_PER_BTU_LB: Final = 2.326
HOTTEST_F: Final = 575.0
_DRY_GAS_BTU_LB_F: Final = 0.24
_WATER_BTU_LB, _STEAM_BTU_LB_F = 1089.0, 0.46


def heat_loss_method(
    flue: FlueGas, stack_c: ArrayLike, air_c: ArrayLike, *, radiation_pct: float | None = None
) -> Loss:
    """Return the loss on the gross basis [% of HHV]: parts `dry gas` and `water`; shapes that fit one another.

    dry gas: m_dg 0.24 (Tg - Ta) / HHV; water of hydrogen and of the fuel's moisture: m_w (1089 + 0.46 Tg - Ta) / HHV,
    with lb per lb of fuel, degF and Btu per lb. stack_c: [degC], up to 301.7 (575 degF, above it the code takes other
    constants); air_c: [degC], -20 to 60, not hotter than the stack.
    Raises: FlueGasError.
    Source: power test code form of the heat-loss method, from memory.
    """
    stack = within(stack_c, "stack temperature", -20.0, (HOTTEST_F - 32.0) / 1.8, "degC")
    air = within(air_c, "air temperature", -20.0, 60.0, "degC")
    refuse_cold_stack(stack, air)
    dry_gas, water = heat_loss_parts_pct(flue, stack, air)
    parts = {"dry gas": dry_gas, "water": water + np.zeros_like(dry_gas)}
    return Loss(METHOD, "gross", flue.combustion.air_taken.o2_pct, parts, radiation_as_given(radiation_pct))


def heat_loss_parts_pct(flue: FlueGas, stack_c: FloatArray, air_c: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return loss by dry gas and by water [% of HHV], for values that were looked at before.

    Source: as `heat_loss_method`.
    """
    stack_f, air_f = 1.8 * stack_c + 32.0, 1.8 * air_c + 32.0
    dry_gas, water, gross_btu_lb = per_lb_of_fuel(flue)
    return (
        np.asarray(100.0 / gross_btu_lb * dry_gas * _DRY_GAS_BTU_LB_F * (stack_f - air_f), dtype=np.float64),
        np.asarray(
            100.0 / gross_btu_lb * water * (_WATER_BTU_LB + _STEAM_BTU_LB_F * stack_f - air_f), dtype=np.float64
        ),
    )


def per_lb_of_fuel(flue: FlueGas) -> tuple[FloatArray, float, float]:
    """Return dry flue gas [lb per lb of fuel, any shape], water of the fuel [lb per lb], HHV [Btu per lb].

    Source: element balance; atomic weights of the fuels' data.
    """
    burned, mass = flue.combustion, shipped_table("elements")["mass_g_mol"]
    air = shipped_table("enthalpy")["air"]
    carbon_dioxide, sulfur_dioxide = mass["C"] + 2.0 * mass["O"], mass["S"] + 2.0 * mass["O"]
    fuel_g = mass_of_unit_g(burned.fuel)
    dry_g = (
        burned.co2 * carbon_dioxide
        + burned.so2 * sulfur_dioxide
        + flue.n2 * 2.0 * mass["N"]
        + flue.o2 * 2.0 * mass["O"]
        + flue.air * air["argon_pct"] / 100.0 * (air["argon_g_mol"] - 2.0 * mass["N"])
    )
    water_g = burned.water_fuel * (2.0 * mass["H"] + mass["O"])
    gross = burned.heat.gross_kj / (fuel_g / 1000.0) / KJ_KG_PER_BTU_LB
    return np.asarray(dry_g / fuel_g, dtype=np.float64), water_g / fuel_g, gross


def mass_of_unit_g(fuel: Fuel) -> float:
    """Return the mass of one unit of fuel [g]: a mole of a gas, a kilogram of a liquid or solid.

    Source: atomic weights of the fuels' data.
    """
    if fuel.kind != "gas":
        return 1000.0
    mass = shipped_table("elements")["mass_g_mol"]
    return float(sum(number * mass[element] for number, element in zip(fuel.atoms, "CHONS", strict=True)))
