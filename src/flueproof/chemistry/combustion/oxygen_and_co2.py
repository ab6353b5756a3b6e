"""O2, CO2 and lambda of the dry flue gas: each from each, exactly, for one fuel; arrays at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from flueproof.chemistry.arrays import numbers, told, within
from flueproof.chemistry.errors import FlueGasError, NearAmbientError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.combustion.complete import CompleteCombustion

LOWEST_O2_PCT = -0.5
"""A cell at its zero may show a little below it; what lies lower is no reading."""
LEAST_FLUE_SHARE = 0.02
"""Below this share of flue gas in the sample (O2 above 20.5 %) lambda and CO2 are refused: our own choice."""


def lambda_from_o2(combustion: CompleteCombustion, o2_pct: ArrayLike) -> FloatArray:
    """Return lambda [-]: air taken over air needed, exact for the fuel.

    o2_pct: O2 in the dry flue [% by volume], any shape, from -0.5 to 98 % of the oxygen of the air.
    Formula: 1 + (Vd0 / L0) O2 / (O2_air - O2), with the oxygen of the combustion's own air (20.946 unless chosen).
    Raises: FlueGasError, NearAmbientError.
    Source: element balance; own derivation.
    """
    o2 = o2_of_flue(o2_pct, combustion.air_taken.o2_pct)
    return 1.0 + combustion.flue_dry_per_air * o2 / (combustion.air_taken.o2_pct - o2)


def co2_from_o2(combustion: CompleteCombustion, o2_pct: ArrayLike, *, so2_counts: bool = True) -> FloatArray:
    """Return CO2 in the dry flue [% by volume], any shape.

    o2_pct: O2 in the dry flue [% by volume]; so2_counts: as in co2_max_pct.
    Formula: CO2max (O2_air - O2) / O2_air, with the oxygen of the combustion's own air.
    Raises: FlueGasError, NearAmbientError.
    Source: element balance; own derivation.
    """
    air_pct = combustion.air_taken.o2_pct
    o2 = o2_of_flue(o2_pct, air_pct)
    return combustion.co2_max_pct(so2_counts=so2_counts) * (air_pct - o2) / air_pct


def o2_from_co2(combustion: CompleteCombustion, co2_pct: ArrayLike, *, so2_counts: bool = True) -> FloatArray:
    """Return O2 in the dry flue [% by volume], any shape.

    co2_pct: CO2 in the dry flue [% by volume], above 2 % of the fuel's largest, up to 1.03 of it.
    Raises: FlueGasError, NearAmbientError.
    Source: element balance; own derivation.
    """
    largest = combustion.co2_max_pct(so2_counts=so2_counts)
    co2 = _co2_of_flue(co2_pct, largest)
    return combustion.air_taken.o2_pct * (1.0 - co2 / largest)


def lambda_from_co2(combustion: CompleteCombustion, co2_pct: ArrayLike, *, so2_counts: bool = True) -> FloatArray:
    """Return lambda [-] from CO2 in the dry flue [% by volume], any shape.

    Formula: 1 + (CO2max / CO2 - 1) Vd0 / L0.
    Raises: FlueGasError, NearAmbientError.
    Source: element balance; own derivation.
    """
    largest = combustion.co2_max_pct(so2_counts=so2_counts)
    return 1.0 + (largest / _co2_of_flue(co2_pct, largest) - 1.0) * combustion.flue_dry_per_air


def o2_from_lambda(combustion: CompleteCombustion, lambda_: ArrayLike) -> FloatArray:
    """Return O2 in the dry flue [% by volume], any shape; lambda_ [-], from 1 to 50.

    Raises: FlueGasError; below 1 the burning is not complete and the balance says nothing.
    Source: element balance; own derivation.
    """
    excess = _lambda_of_flue(lambda_) - 1.0
    return combustion.air_taken.o2_pct * excess / (excess + combustion.flue_dry_per_air)


def co2_from_lambda(combustion: CompleteCombustion, lambda_: ArrayLike, *, so2_counts: bool = True) -> FloatArray:
    """Return CO2 in the dry flue [% by volume], any shape; lambda_ [-], from 1 to 50.

    Raises: FlueGasError.
    Source: element balance; own derivation.
    """
    excess = _lambda_of_flue(lambda_) - 1.0
    largest = combustion.co2_max_pct(so2_counts=so2_counts)
    return largest / (1.0 + excess / combustion.flue_dry_per_air)


def o2_of_flue(o2_pct: ArrayLike, air_pct: float) -> FloatArray:
    """Return O2 of a dry flue gas as an array, after a look whether it can be one [% by volume].

    Raises: FlueGasError below -0.5 % or above the air, NearAmbientError where less than 2 % of the sample is flue gas.
    Source: the bounds are our own choice.
    """
    o2 = numbers(o2_pct, "O2")
    near = o2 > (1.0 - LEAST_FLUE_SHARE) * air_pct
    if near.any():
        raise NearAmbientError(
            f"O2 {told(o2, near, '%')} is nearly air ({air_pct:g} %): no flue gas is left to compute with. "
            "Look for a leak or a probe outside the flue."
        )
    return within(o2, "O2", LOWEST_O2_PCT, air_pct, "%")


def _co2_of_flue(co2_pct: ArrayLike, largest: float) -> FloatArray:
    co2 = numbers(co2_pct, "CO2")
    near = co2 < LEAST_FLUE_SHARE * largest
    if near.any():
        raise NearAmbientError(f"CO2 {told(co2, near, '%')} is nearly air: no flue gas is left to compute with.")
    high = co2 > 1.03 * largest
    if high.any():
        raise FlueGasError(
            f"CO2 {told(co2, high, '%')} is more than the fuel can give ({largest:.2f} %): look at the fuel set."
        )
    return within(co2, "CO2", 0.0, 100.0, "%")


def _lambda_of_flue(lambda_: ArrayLike) -> FloatArray:
    given = numbers(lambda_, "lambda")
    rich = given < 1.0
    if rich.any():
        raise FlueGasError(
            f"lambda {told(given, rich, '')}: below 1 there is too little air to burn the fuel, CO and H2 are left "
            "over and this balance does not hold."
        )
    return np.asarray(within(given, "lambda", 1.0, 50.0, ""))
