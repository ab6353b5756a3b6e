"""Whether an O2/CO2 pair fits the fuel that is set, and what it points to when it does not."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from flueproof.chemistry.plausibility.fo import fo_from_pair, fo_of_fuel, fo_range, published_fo_ranges

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.fuels.fuel import FoRange, Fuel

Side = Literal["fits", "low", "high"]

POINTS_TO: dict[Side, tuple[str, ...]] = {
    "fits": (
        "O2 and CO2 fit the fuel that is set",
        "air drawn in before both readings thins both alike and stays invisible here",
    ),
    "low": (
        "O2 reads too high for this CO2: the O2 channel, or air drawn in where O2 was tapped",
        "or CO2 reads too high for this O2: the CO2 channel",
        "or a fuel richer in carbon than the one set",
    ),
    "high": (
        "CO2 reads too low for this O2: the CO2 channel, or air drawn in where CO2 was tapped",
        "or O2 reads too low for this CO2: the O2 channel",
        "or a fuel richer in hydrogen than the one set",
    ),
}
"""Possible reasons for each side, in the order to look; own derivation from the balance."""


@dataclass(frozen=True)
class PairLook:
    """What an O2/CO2 pair says.

    fo [-], any shape; side: -1 below, 0 inside, 1 above the range of the fuel, one per pair; range_: the range, wide
    enough for all fuels of a group; own_fo: what the composition of this fuel gives, for a closer look.
    """

    fuel: Fuel
    fo: FloatArray
    side: NDArray[np.int8]
    range_: FoRange
    own_fo: float

    @property
    def from_own_pct(self) -> FloatArray:
        """How far each Fo lies from the fuel's own [%]."""
        return 100.0 * (self.fo / self.own_fo - 1.0)

    def sides(self) -> tuple[Side, ...]:
        """Return `fits`, `low` or `high` for each pair, in their order.

        Source: common practice, no source.
        """
        names: tuple[Side, ...] = ("low", "fits", "high")
        return tuple(names[int(side) + 1] for side in np.ravel(self.side))


def look_at_pair(fuel: Fuel, o2_pct: ArrayLike, co2_pct: ArrayLike, co_ppm: ArrayLike = 0.0) -> PairLook:
    """Return whether O2 and CO2 of one dry flue gas fit a fuel; shapes that fit one another.

    o2_pct, co2_pct: both measured, dry [% by volume]; co_ppm: measured CO [ppm], corrected for. A CO2 that the
    analyzer computed from its O2 always fits the fuel that it is set to and proves nothing.
    Raises: FlueGasError, NearAmbientError.
    Source: 40 CFR 60, Appendix A-2, Method 3B, 9.1 and 12.3.
    """
    found, bounds = fo_from_pair(o2_pct, co2_pct, co_ppm), fo_range(fuel)
    side = np.asarray((found > bounds.high).astype(np.int8) - (found < bounds.low).astype(np.int8), dtype=np.int8)
    return PairLook(fuel, found, side, bounds, fo_of_fuel(fuel))


def groups_that_fit(fo: float) -> tuple[str, ...]:
    """Return the names of the groups of fuels whose published range holds this Fo [-]; empty when none does.

    Source: 40 CFR 60, Appendix A-2, Method 3B, Table 3B-1, from memory.
    """
    return tuple(one.name for one in published_fo_ranges() if one.fo.low <= fo <= one.fo.high)
