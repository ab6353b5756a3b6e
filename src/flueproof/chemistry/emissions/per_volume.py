"""ppm as mass per volume and back, and nitrogen oxides as NO2."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueproof.chemistry.arrays import numbers, within
from flueproof.chemistry.emissions.gases import NORMAL_C, molar_mass_g, molar_volume_m3
from flueproof.chemistry.shipped_table import shipped_table
from flueproof.chemistry.stated import Basis, Moisture, Stated, stated

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray

_METHOD = "ideal gas"


def mg_m3_from_ppm(ppm: ArrayLike, gas: str, *, at_c: float = NORMAL_C, moisture: Moisture = "dry") -> Stated:
    """Return the mass of a gas per volume [mg/m3 at at_c and 101.325 kPa], any shape.

    ppm: share by volume [ppm]; gas: CO, NO, NO2, SO2, CO2 (NOx: as NO2); at_c: temperature of the cubic meter [degC]:
    0 for emission limits, 20 or 25 for air of rooms. moisture: of the gas that the ppm belong to, told in the basis.
    Raises: EmissionError, FlueGasError.
    Source: ISO 14912; 1. BImSchV, section 2 no. 4 for 0 degC and dry.
    """
    factor = 1e-3 * molar_mass_g(gas) / molar_volume_m3(at_c)
    return stated(factor * numbers(ppm, gas), "mg/m3", Basis(_METHOD, moisture=moisture, at_c=at_c))


def ppm_from_mg_m3(mg_m3: ArrayLike, gas: str, *, at_c: float = NORMAL_C, moisture: Moisture = "dry") -> Stated:
    """Return the share by volume [ppm] of a mass per volume [mg/m3 at at_c and 101.325 kPa], any shape.

    Raises: EmissionError, FlueGasError.
    Source: ISO 14912.
    """
    factor = 1e-3 * molar_mass_g(gas) / molar_volume_m3(at_c)
    return stated(numbers(mg_m3, gas) / factor, "ppm", Basis(_METHOD, moisture=moisture))


def nox_ppm(no_ppm: ArrayLike, no2_ppm: ArrayLike) -> FloatArray:
    """Return nitrogen oxides [ppm] from NO and NO2, both measured [ppm]; state their mass as NO2.

    Raises: FlueGasError.
    Source: definition of NOx as NO + NO2; 40 CFR 60, Appendix A-4, Method 7E.
    """
    return numbers(no_ppm, "NO") + numbers(no2_ppm, "NO2")


def nox_from_no_only_ppm(no_ppm: ArrayLike, no2_share: float | None = None) -> FloatArray:
    """Return nitrogen oxides [ppm] where only NO was measured [ppm], any shape; state their mass as NO2.

    no2_share: part of the NOx that is NO2 [fraction], 0 to 0.5; None: 0.05. An assumption: say it with the figure.
    Raises: FlueGasError.
    Source: common practice, no source.
    """
    share = shipped_table("units")["nox"]["no2_share"] if no2_share is None else no2_share
    return numbers(no_ppm, "NO") / (1.0 - within(share, "share of NO2", 0.0, 0.5, "(fraction)"))
