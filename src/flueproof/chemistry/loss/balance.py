"""Flue loss by the exact balance of enthalpy: what the gas takes up between the burner's air and the stack."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING, Final

import numpy as np

from flueproof.chemistry.arrays import within
from flueproof.chemistry.loss.enthalpy import (
    COLDEST_C,
    HOTTEST_C,
    Mixture,
    enthalpy_kj,
    enthalpy_unchecked_kj,
    mixture,
)
from flueproof.chemistry.loss.german import refuse_cold_stack
from flueproof.chemistry.loss.loss import Basis, Loss, radiation_as_given
from flueproof.chemistry.shipped_table import shipped_table

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.combustion.complete import CompleteCombustion
    from flueproof.chemistry.combustion.flue_gas import FlueGas

METHOD: Final = "exact enthalpy balance"
HOTTEST_AIR_C: Final = 400.0


def balance(
    flue: FlueGas,
    stack_c: ArrayLike,
    air_c: ArrayLike,
    basis: Basis,
    *,
    radiation_pct: float | None = None,
    latent_kj_mol: float | None = None,
) -> Loss:
    """Return the loss of a dry stack [% of the heating value on the basis], shapes that fit one another.

    Parts: `dry gas`, `water vapor` (sensible, that of humid air included) and, gross, `latent` heat of the water
    formed or brought by the fuel. Nothing condenses: below the dew point take `condensing`. CO and soot left over are
    not in it: `unburned_co_pct`.
    stack_c: [degC], up to 1400, not colder than air_c; air_c: [degC], -50 to 400 (heated air). Fuel enters as warm as
    the air, counted like it. latent_kj_mol: at 25 degC, where heating values are stated, unless another is chosen:
    so net and gross efficiency hang together exactly.
    Raises: FlueGasError.
    Source: first law; enthalpies of NASA TM-4513 (1993); air taken as O2, N2 and argon.
    """
    stack = within(stack_c, "stack temperature", COLDEST_C, HOTTEST_C, "degC")
    air = within(air_c, "air temperature", COLDEST_C, HOTTEST_AIR_C, "degC")
    refuse_cold_stack(stack, air)
    burned = flue.combustion
    heat = burned.heat.net_kj if basis == "net" else burned.heat.gross_kj
    dry, vapor = sensible_kj(flue, stack, air)
    parts = {"dry gas": 100.0 * dry / heat, "water vapor": 100.0 * vapor / heat}
    if basis == "gross":
        latent = standard_latent_kj_mol() if latent_kj_mol is None else latent_kj_mol
        parts["latent"] = np.full_like(parts["dry gas"], 100.0 * latent * burned.water_fuel / heat)
    return Loss(METHOD, basis, burned.air_taken.o2_pct, parts, radiation_as_given(radiation_pct))


def sensible_kj(flue: FlueGas, stack_c: FloatArray, air_c: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return what dry gas and water vapor give up from stack to air [kJ per unit of fuel], nothing condensing.

    Source: enthalpies of NASA TM-4513 (1993).
    """
    at_zero, per_air, per_water = _gases(flue.combustion)
    more_air = flue.air - flue.combustion.air

    def rise(gas: Mixture) -> FloatArray:
        return enthalpy_kj(gas, stack_c) - enthalpy_kj(gas, air_c)

    return rise(at_zero) + more_air * rise(per_air), flue.water * rise(per_water)


def net_balance_pct(
    combustion: CompleteCombustion, lambda_: FloatArray, stack_c: FloatArray, air_c: FloatArray
) -> FloatArray:
    """Return the net loss alone [% of LHV], for values that were looked at before: two polynomials a temperature.

    Source: as `balance`.
    """
    at_zero, per_lambda = _wet_gases(combustion)
    loss = enthalpy_unchecked_kj(per_lambda, stack_c) - enthalpy_unchecked_kj(per_lambda, air_c)
    loss *= lambda_ - 1.0
    loss += enthalpy_unchecked_kj(at_zero, stack_c) - enthalpy_unchecked_kj(at_zero, air_c)
    return np.asarray(100.0 / combustion.heat.net_kj * loss, dtype=np.float64)


def standard_latent_kj_mol() -> float:
    """Return the heat of evaporation of water at 25 degC, with which net heating values are made [kJ/mol].

    Source: as the data of the fuels.
    """
    return float(shipped_table("elements")["water"]["latent_kj_mol"])


@functools.lru_cache(maxsize=64)
def _enthalpies(parts: tuple[tuple[str, float], ...]) -> Mixture:
    return mixture(dict(parts))


def _gases(burned: CompleteCombustion) -> tuple[Mixture, Mixture, Mixture]:
    """Return dry flue gas at zero excess air, a mol of dry air, a mol of water vapor."""
    oxygen = burned.air_taken.o2_pct / 100.0
    argon = float(shipped_table("enthalpy")["air"]["argon_pct"]) / 100.0
    dry = (
        ("CO2", burned.co2),
        ("SO2", burned.so2),
        ("N2", burned.n2 - argon * burned.air),
        ("Ar", argon * burned.air),
    )
    air = (("O2", oxygen), ("N2", 1.0 - oxygen - argon), ("Ar", argon))
    return _enthalpies(dry), _enthalpies(air), _enthalpies((("H2O", 1.0),))


def _wet_gases(burned: CompleteCombustion) -> tuple[Mixture, Mixture]:
    """Return wet flue gas at zero excess air, and the humid air that one more lambda adds to it."""
    at_zero, per_air, per_water = _gases(burned)
    more = Mixture(burned.air * per_air.low, burned.air * per_air.high).plus(per_water, burned.water_air)
    return at_zero.plus(per_water, burned.water), more
