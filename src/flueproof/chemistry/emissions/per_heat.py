"""Mass per heat released, from the composition of the fuel: mg/MJ, mg/kWh, g/MJ, ng/J, lb/MMBtu."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np

from flueproof.chemistry.emissions.gases import molar_mass_g
from flueproof.chemistry.errors import EmissionError
from flueproof.chemistry.oxygen.constants import OxygenConstant
from flueproof.chemistry.oxygen.validity import Outside, checked_o2, checked_values
from flueproof.chemistry.shipped_table import shipped_table
from flueproof.chemistry.stated import Basis, Stated, stated

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.combustion.complete import CompleteCombustion

PerHeat = Literal["mg/MJ", "mg/kWh", "g/MJ", "ng/J", "lb/MMBtu"]
PER_HEAT: tuple[PerHeat, ...] = ("mg/MJ", "mg/kWh", "g/MJ", "ng/J", "lb/MMBtu")
_METHOD = "balance of the fuel's elements"


def emission_per_heat(
    combustion: CompleteCombustion,
    ppm: ArrayLike,
    gas: str,
    o2_pct: ArrayLike,
    *,
    heat: Literal["net", "gross"],
    unit: PerHeat = "mg/MJ",
    outside: Outside = "raise",
) -> Stated:
    """Return the mass of a gas per heat released, from its share and O2 in the same dry flue; shapes that fit.

    Formula: ppm x molar mass x (dry flue at zero excess air per heat) x O2_air / (O2_air - O2), with the oxygen of the
    combustion's own air (20.946 unless chosen). ppm: dry [ppm]; gas: CO, NO, NO2, SO2, CO2 (NOx: as NO2); o2_pct: dry
    [% by volume]; heat: per net or per gross heating value, never to be mixed.
    Raises: EmissionError, FlueGasError, NearAmbientError from 18 % O2.
    Source: element balance, own derivation; the G20 figures of EN 676 and EN 15502-1 (from memory) agree.
    """
    if heat not in ("net", "gross"):
        raise EmissionError(f"heat {heat!r}: say per which heating value, net or gross.")
    share = checked_values(ppm, gas, outside)
    o2, doubtful, refused = checked_o2(o2_pct, outside)
    air = combustion.air_taken.o2_pct
    per_unit_kj = combustion.heat.net_kj if heat == "net" else combustion.heat.gross_kj
    if per_unit_kj <= 0.0:
        raise EmissionError(f"{combustion.fuel.name} has no {heat} heating value above zero.")
    mol_per_mj = 1000.0 * combustion.flue_dry / per_unit_kj
    mg_mj = 1e-3 * share * molar_mass_g(gas) * (mol_per_mj * air / (air - o2))
    basis = Basis(_METHOD, oxygen=OxygenConstant(air, "of the balance", _METHOD), moisture="dry", heat=heat)
    return stated(per_heat_from_mg_mj(mg_mj, unit), unit, basis, doubtful, refused | np.isnan(share))


def per_heat_from_mg_mj(mg_mj: FloatArray, unit: PerHeat) -> FloatArray:
    """Return a mass per heat in another unit; mg_mj [mg/MJ], any shape. The basis (net, gross) stays as it is.

    Raises: EmissionError.
    Source: NIST SP 811, B.8 (1 lb/MMBtu = 429.92 ng/J; 1 mg/MJ = 1 ng/J).
    """
    return mg_mj * _per_mg_mj(unit)


def mg_mj_from_per_heat(value: FloatArray, unit: PerHeat) -> FloatArray:
    """Return a mass per heat in mg/MJ; value [unit], any shape.

    Raises: EmissionError.
    Source: NIST SP 811, B.8.
    """
    return value / _per_mg_mj(unit)


def _per_mg_mj(unit: PerHeat) -> float:
    units = shipped_table("units")
    lb_mmbtu = units["heat"]["j_per_btu"] / units["mass_and_volume"]["g_per_lb"] * 1e-3
    factors = {"mg/MJ": 1.0, "ng/J": 1.0, "g/MJ": 1e-3, "mg/kWh": units["heat"]["mj_per_kwh"], "lb/MMBtu": lb_mmbtu}
    if unit not in factors:
        raise EmissionError(f"unit {unit!r} is not known: allowed are {', '.join(PER_HEAT)}.")
    return float(factors[unit])
