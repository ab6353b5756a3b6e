"""Flue gas cooled below its dew point: how much water condenses, and the heat that it gives back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from flueproof.chemistry.arrays import within
from flueproof.chemistry.loss.balance import HOTTEST_AIR_C, net_balance_pct, sensible_kj, standard_latent_kj_mol
from flueproof.chemistry.loss.enthalpy import COLDEST_C
from flueproof.chemistry.loss.german import refuse_cold_stack
from flueproof.chemistry.loss.loss import BASES, Basis, Loss, radiation_as_given
from flueproof.chemistry.moisture.dew_point import NORMAL_HPA, dew_point_c
from flueproof.chemistry.moisture.saturation import latent_heat_kj_mol, saturation_hpa

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.combustion.flue_gas import FlueGas

METHOD: Final = "exact enthalpy balance with condensation"
WHY_ABOVE_100: Final = (
    "A net efficiency counts the fuel's heat without the heat of its water vapor. Where that vapor condenses its heat "
    "comes back, and the net figure may pass 100 %; the gross figure of the same appliance cannot."
)


@dataclass(frozen=True, slots=True)
class Condensing:
    """What happens in a heat exchanger that cools the gas to exit_c; arrays of one shape.

    condensed_share: of all water vapor [-]; condensed_mol: per unit of fuel; gain_pct: heat given back, by basis
    [% of the heating value]; loss: by basis, with the gain as a negative part. It is the most that can condense: gas
    and drain leave in balance at exit_c, as no real exchanger quite reaches.
    """

    dew_point_c: FloatArray
    condensed_share: FloatArray
    condensed_mol: FloatArray
    gain_pct: dict[Basis, FloatArray]
    loss: dict[Basis, Loss]


def condensing(
    flue: FlueGas,
    exit_c: ArrayLike,
    air_c: ArrayLike,
    *,
    pressure_hpa: float = NORMAL_HPA,
    radiation_pct: float | None = None,
) -> Condensing:
    """Return the balance of gas that leaves at exit_c, with what condenses on the way; shapes that fit one another.

    exit_c: gas after the exchanger [degC], 0 to 250, not colder than air_c; pressure_hpa: absolute, at the place,
    500 to 1100; radiation_pct: [% of LHV] as given, counted on both bases. Above the dew point nothing condenses and
    the loss is that of `balance`.
    Raises: FlueGasError, AirError.
    Source: saturation balance at the exit, saturation line and heat of evaporation of Wagner and Pruss 2002.
    """
    leaving = within(exit_c, "exit temperature", 0.0, 250.0, "degC")
    air = within(air_c, "air temperature", COLDEST_C, HOTTEST_AIR_C, "degC")
    refuse_cold_stack(leaving, air)
    dew = dew_point_c(flue.water_wet_share, pressure_hpa)
    condensed = np.where(leaving >= dew, 0.0, condensed_mol(flue, leaving, pressure_hpa))
    gain_kj = condensed * latent_heat_kj_mol(leaving)
    dry, vapor = sensible_kj(flue, leaving, air)
    radiation = radiation_as_given(radiation_pct)
    heat, fuel_water = flue.combustion.heat, flue.combustion.water_fuel
    gain: dict[Basis, FloatArray] = {}
    loss: dict[Basis, Loss] = {}
    for basis in BASES:
        value = heat.net_kj if basis == "net" else heat.gross_kj
        gain[basis] = 100.0 * gain_kj / value
        parts = {"dry gas": 100.0 * dry / value, "water vapor": 100.0 * vapor / value, "condensed": -gain[basis]}
        if basis == "gross":
            latent = 100.0 * standard_latent_kj_mol() * fuel_water / value
            parts["latent"] = np.full_like(parts["dry gas"], latent)
        jacket = None if radiation is None else radiation * heat.net_kj / value
        loss[basis] = Loss(METHOD, basis, flue.combustion.air_taken.o2_pct, parts, jacket)
    return Condensing(dew, condensed / flue.water, condensed, gain, loss)


def condensed_mol(flue: FlueGas, exit_c: FloatArray, pressure_hpa: float) -> FloatArray:
    """Return the water that gas in balance at exit_c has lost [mol per unit of fuel], 0 where none.

    Source: saturation balance: n_dry x/(1 - x) of vapor is left, x = p_sat/p.
    """
    held = np.minimum(saturation_hpa(exit_c) / pressure_hpa, flue.water_wet_share)
    return np.asarray(np.maximum(flue.water - flue.dry * held / (1.0 - held), 0.0), dtype=np.float64)


def net_condensing_pct(flue: FlueGas, exit_c: FloatArray, air_c: FloatArray, pressure_hpa: float) -> FloatArray:
    """Return the net loss with the heat given back taken off [% of LHV], for values that were looked at before.

    Source: as `condensing`; gas hotter than 100 degC holds all of its water.
    """
    wet = np.clip(exit_c, 0.0, 100.0)
    gain = condensed_mol(flue, wet, pressure_hpa) * latent_heat_kj_mol(wet)
    dry = net_balance_pct(flue.combustion, flue.lambda_, exit_c, air_c)
    return np.asarray(dry - 100.0 * gain / flue.combustion.heat.net_kj, dtype=np.float64)
