"""Emission rates by EPA Method 19 [lb/MMBtu of gross heat input]: from O2 dry, O2 wet, or CO2; one function each."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from flueproof.chemistry.arrays import within
from flueproof.chemistry.combustion.wet_and_dry import wet_from_dry
from flueproof.chemistry.emissions.gases import lb_per_scf_per_ppm
from flueproof.chemistry.errors import FlueGasError, NearAmbientError
from flueproof.chemistry.oxygen.constants import US_METHODS
from flueproof.chemistry.oxygen.validity import Outside, checked_o2, checked_values
from flueproof.chemistry.shipped_table import shipped_table
from flueproof.chemistry.stated import Basis, Moisture, Stated, stated

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

_CLAUSES = "EPA Method 19, {}"
LEAST_CO2_PCT = 1.0


def rate_from_dry_o2(ppm: ArrayLike, gas: str, o2_pct: ArrayLike, fd: float, *, outside: Outside = "raise") -> Stated:
    """Return the emission rate [lb/MMBtu, gross] from a share and O2, both dry; shapes that fit one another.

    Formula: E = C Fd 20.9 / (20.9 - O2). ppm: dry [ppm]; gas: CO, NO, NO2, SO2 (NOx: as NO2); o2_pct: dry
    [% by volume]; fd: F factor [dscf/MMBtu].
    Raises: NearAmbientError from 18 % O2, FlueGasError, EmissionError.
    Source: 40 CFR 60, Appendix A-7, Method 19, 12.2.1, equation 19-1; layout from memory.
    """
    share = checked_values(ppm, gas, outside)
    o2, doubtful, refused = checked_o2(o2_pct, outside)
    value = share * lb_per_scf_per_ppm(gas) * _factor(fd, "Fd") * (US_METHODS.pct / (US_METHODS.pct - o2))
    return stated(value, "lb/MMBtu", _basis("12.2.1, dry O2", "dry"), doubtful, refused | np.isnan(share))


def rate_from_wet_o2(
    ppm: ArrayLike,
    gas: str,
    o2_pct: ArrayLike,
    fw: float,
    *,
    air_water_share: float | None = None,
    outside: Outside = "raise",
) -> Stated:
    """Return the emission rate [lb/MMBtu, gross] from a share and O2, both wet; shapes that fit one another.

    Formula: E = C Fw 20.9 / (20.9 (1 - Bwa) - O2). ppm: wet [ppm]; o2_pct: wet [% by volume]; fw: F factor
    [wscf/MMBtu]; air_water_share: water in the combustion air [fraction], Bwa; None: 0.027, allowed anywhere.
    Raises: NearAmbientError from 18 % O2 of the moist air's 20.9, FlueGasError, EmissionError.
    Source: 40 CFR 60, Appendix A-7, Method 19, 12.2.2.1, equation 19-3; layout from memory.
    """
    shipped = shipped_table("units")["method_19"]["bwa_anywhere"] if air_water_share is None else air_water_share
    moist = float(within(shipped, "water in the air", 0.0, 0.2, "(fraction)"))
    share = checked_values(ppm, gas, outside)
    o2, doubtful, refused = checked_o2(o2_pct, outside)
    value = (
        share
        * lb_per_scf_per_ppm(gas)
        * _factor(fw, "Fw")
        * (US_METHODS.pct / (wet_from_dry(US_METHODS.pct, moist) - o2))
    )
    return stated(value, "lb/MMBtu", _basis("12.2.2, wet O2", "wet"), doubtful, refused | np.isnan(share))


def rate_from_co2(ppm: ArrayLike, gas: str, co2_pct: ArrayLike, fc: float, *, moisture: Moisture = "dry") -> Stated:
    """Return the emission rate [lb/MMBtu, gross] from a share and CO2, both dry or both wet; shapes that fit.

    Formula: E = C Fc 100 / CO2. co2_pct [% by volume], 1 to 35; fc: F factor [scf CO2/MMBtu]; moisture: of both.
    Raises: NearAmbientError below 1 % CO2, FlueGasError, EmissionError.
    Source: 40 CFR 60, Appendix A-7, Method 19, 12.2.4 and 12.2.5, equations 19-6 and 19-7; layout from memory.
    """
    share = checked_values(ppm, gas)
    co2 = within(co2_pct, "CO2", 0.0, 35.0, "%")
    if (co2 < LEAST_CO2_PCT).any():
        raise NearAmbientError(f"CO2 {co2.min():g} %: below {LEAST_CO2_PCT:g} % the sample is nearly all air.")
    value = share * lb_per_scf_per_ppm(gas) * _factor(fc, "Fc") * (100.0 / co2)
    basis = Basis(_CLAUSES.format("12.2.4, CO2"), moisture=moisture, heat="gross", at_c=20.0)
    return stated(value, "lb/MMBtu", basis)


def _factor(value: float, name: str) -> float:
    if not 100.0 <= value <= 50_000.0:
        raise FlueGasError(f"{name} {value!r}: an F factor lies between 100 and 50 000 cubic feet per MMBtu.")
    return float(value)


def _basis(clause: str, moisture: Moisture) -> Basis:
    return Basis(_CLAUSES.format(clause), oxygen=US_METHODS, moisture=moisture, heat="gross", at_c=20.0)
