"""Gases whose mass is stated, the volume of a mole, and the constants behind the units."""

from __future__ import annotations

import math
from typing import Final

from flueproof.chemistry.errors import EmissionError
from flueproof.chemistry.shipped_table import shipped_table

KELVIN: Final = 273.15
NORMAL_C: Final = 0.0
US_STANDARD_C: Final = 20.0
"""68 degF, at which the US methods count a standard cubic foot."""


def molar_mass_g(gas: str) -> float:
    """Return the molar mass of a gas [g/mol]: CO, NO, NO2, SO2 or CO2.

    Raises: EmissionError.
    Source: IUPAC 2021.
    """
    table = {key: value for key, value in shipped_table("gases").items() if isinstance(value, dict)}
    if gas not in table:
        raise EmissionError(f"gas {gas!r} is not known: allowed are {', '.join(table)} (NOx is stated as NO2).")
    return float(table[gas]["g_mol"])


def molar_volume_m3(at_c: float) -> float:
    """Return the volume of a mole of ideal gas at 101.325 kPa [m3/mol]; at_c [degC], -50 to 1000.

    Raises: EmissionError.
    Source: ideal gas; CODATA value of the gas constant.
    """
    if not (math.isfinite(at_c) and -50.0 <= at_c <= 1000.0):
        raise EmissionError(f"temperature {at_c!r} degC of a gas volume: allowed is -50 to 1000 degC.")
    gas = shipped_table("units")["gas"]
    return float(gas["r_j_mol_k"] * (at_c + KELVIN) / gas["pressure_pa"])


def mol_per_scf() -> float:
    """Return how many mol a standard cubic foot of the US methods holds, at 68 degF and 101.325 kPa.

    Source: ideal gas; NIST SP 811, B.8.
    """
    return float(shipped_table("units")["mass_and_volume"]["m3_per_ft3"]) / molar_volume_m3(US_STANDARD_C)


def lb_per_scf_per_ppm(gas: str) -> float:
    """Return the mass of 1 ppm of a gas in a standard cubic foot [lb/scf], the K of Method 19.

    Raises: EmissionError.
    Source: ideal gas at 68 degF; 40 CFR 75, Appendix F, 3.3.1 states 1.194e-7 for NOx as NO2.
    """
    grams = 1e-6 * molar_mass_g(gas) * mol_per_scf()
    return grams / float(shipped_table("units")["mass_and_volume"]["g_per_lb"])
