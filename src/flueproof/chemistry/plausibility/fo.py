"""Fo: one figure from O2 and CO2 of the same dry flue gas that says of which fuel they can be."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from flueproof.chemistry.arrays import numbers, told, within
from flueproof.chemistry.combustion.air import CombustionAir
from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.combustion.oxygen_and_co2 import o2_of_flue
from flueproof.chemistry.errors import NearAmbientError
from flueproof.chemistry.fuels.fuel import FoRange, Fuel
from flueproof.chemistry.oxygen.constants import US_METHODS
from flueproof.chemistry.shipped_table import shipped_table

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray

LEAST_CO2_PCT = 0.5
PPM_PER_PCT = 1e4
MIXED_FUEL_SHARE = 0.12
_MIXED_SOURCE = "balance of the fuel's elements, with the 12 % of 40 CFR 60, Appendix A-2, Method 3B, for mixed fuels"


class NamedRange(NamedTuple):
    """A published range of Fo: key and name of the group of fuels, and the range."""

    key: str
    name: str
    fo: FoRange


def fo_from_pair(o2_pct: ArrayLike, co2_pct: ArrayLike, co_ppm: ArrayLike = 0.0) -> FloatArray:
    """Return Fo [-] of O2 and CO2 in one dry flue gas [% by volume], corrected for CO [ppm]; shapes that fit.

    Formula: (20.9 - (O2 - 0.5 CO)) / (CO2 + CO), CO in per cent: as if the CO had burned.
    Raises: FlueGasError; NearAmbientError where there is less than 0.5 % CO2 or O2 is nearly that of air.
    Source: 40 CFR 60, Appendix A-2, Method 3B, 12.3.
    """
    o2 = o2_of_flue(o2_pct, US_METHODS.pct)
    co2 = within(co2_pct, "CO2", 0.0, 35.0, "%")
    co = within(co_ppm, "CO", -100.0, 200_000.0, "ppm") / PPM_PER_PCT
    burned = numbers(co2 + co, "CO2")
    little = burned < LEAST_CO2_PCT
    if little.any():
        raise NearAmbientError(
            f"CO2 {told(burned, little, '%')}: below {LEAST_CO2_PCT:g} % the pair says nothing of a fuel."
        )
    return (US_METHODS.pct - (o2 - 0.5 * co)) / burned


def fo_of_fuel(fuel: Fuel) -> float:
    """Return the Fo [-] that the composition of a fuel gives, air taken as 20.9 % O2.

    Source: element balance; 40 CFR 60, Appendix A-2, Method 3B, 12.3: Fo = 20.9 / CO2max.
    """
    return US_METHODS.pct / complete_combustion(fuel, CombustionAir(o2_pct=US_METHODS.pct)).co2_max_pct()


def fo_range(fuel: Fuel) -> FoRange:
    """Return the range of Fo for a fuel: the published one of its group, else 12 % about that of its composition.

    Source: 40 CFR 60, Appendix A-2, Method 3B, Table 3B-1 (from memory) and 12.3.
    """
    if fuel.fo_range is not None:
        return fuel.fo_range
    middle = fo_of_fuel(fuel)
    return FoRange(middle * (1.0 - MIXED_FUEL_SHARE), middle * (1.0 + MIXED_FUEL_SHARE), _MIXED_SOURCE)


def published_fo_ranges() -> tuple[NamedRange, ...]:
    """Return all published ranges of Fo, from gases to wood.

    Source: 40 CFR 60, Appendix A-2, Method 3B, Table 3B-1, from memory.
    """
    table = shipped_table("fo_ranges")
    return tuple(
        NamedRange(key, row["name"], FoRange(row["low"], row["high"], table["source"]))
        for key, row in table.items()
        if isinstance(row, dict)
    )
