"""Excess air, in four definitions that do not give the same figure; each function is one of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueproof.chemistry.arrays import numbers, told, within
from flueproof.chemistry.combustion.oxygen_and_co2 import lambda_from_co2, lambda_from_o2, o2_of_flue
from flueproof.chemistry.errors import FlueGasError
from flueproof.chemistry.oxygen.constants import US_METHODS, OxygenConstant

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.combustion.complete import CompleteCombustion

METHOD_3B_O2_PER_N2 = 0.264
"""Oxygen over nitrogen of air as Method 3B takes it; from memory."""


def excess_air_exact_pct(combustion: CompleteCombustion, o2_pct: ArrayLike) -> FloatArray:
    """Return excess air [%] from O2 in the dry flue [% by volume], exact for the fuel; any shape.

    Formula: 100 (Vd0 / L0) O2 / (O2_air - O2), with the oxygen of the combustion's own air (20.946 unless chosen).
    Raises: FlueGasError, NearAmbientError.
    Source: element balance; own derivation.
    """
    return 100.0 * (lambda_from_o2(combustion, o2_pct) - 1.0)


def excess_air_from_co2_pct(
    combustion: CompleteCombustion, co2_pct: ArrayLike, *, so2_counts: bool = True
) -> FloatArray:
    """Return excess air [%] from CO2 in the dry flue [% by volume], exact for the fuel; any shape.

    so2_counts: True where the CO2 was read with SO2 in it.
    Raises: FlueGasError, NearAmbientError.
    Source: element balance; own derivation.
    """
    return 100.0 * (lambda_from_co2(combustion, co2_pct, so2_counts=so2_counts) - 1.0)


def excess_air_simple_pct(o2_pct: ArrayLike, oxygen: OxygenConstant = US_METHODS) -> FloatArray:
    """Return the simple excess air of many field instruments [%] from O2 in the dry flue [% by volume]; any shape.

    Formula: 100 O2 / (20.9 - O2); no fuel enters. On natural gas it lies about a tenth above the exact figure. oxygen:
    for an instrument that is known to take another constant than 20.9.
    Raises: FlueGasError, NearAmbientError.
    Source: common practice, no source.
    """
    o2 = o2_of_flue(o2_pct, oxygen.pct)
    return 100.0 * o2 / (oxygen.pct - o2)


def excess_air_method_3b_pct(o2_pct: ArrayLike, co2_pct: ArrayLike, co_pct: ArrayLike = 0.0) -> FloatArray:
    """Return excess air [%] from O2, CO2 and CO in the dry flue [% by volume]; shapes that fit one another.

    Formula: 100 (O2 - 0.5 CO) / (0.264 N2 - (O2 - 0.5 CO)), N2 = 100 - CO2 - O2 - CO. It takes the fuel to hold no
    nitrogen. CO is in per cent: 10 000 ppm = 1 %.
    Raises: FlueGasError, also where the gases do not belong to a flue gas.
    Source: 40 CFR 60, Appendix A-2, Method 3B, equation 3B-1; constant from memory.
    """
    o2 = o2_of_flue(o2_pct, US_METHODS.pct)
    co2 = within(co2_pct, "CO2", 0.0, 35.0, "%")
    co = within(co_pct, "CO", 0.0, 20.0, "%")
    left = numbers(o2 - 0.5 * co, "O2 less half the CO")
    spare = METHOD_3B_O2_PER_N2 * (100.0 - co2 - o2 - co) - left
    if (spare <= 0.0).any():
        raise FlueGasError(
            f"O2, CO2 and CO leave {told(spare, spare <= 0.0, '%')} of oxygen burned: these are not of one flue gas."
        )
    return 100.0 * left / spare
