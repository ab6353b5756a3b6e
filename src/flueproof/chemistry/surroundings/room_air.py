"""Room air as a burner and an analyzer meet it: oxygen in humid air, and what a self-set unit makes of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueproof.chemistry.arrays import within
from flueproof.chemistry.combustion.air import CombustionAir
from flueproof.chemistry.errors import AirError
from flueproof.chemistry.moisture.dew_point import NORMAL_HPA, water_share_of_air
from flueproof.chemistry.oxygen.constants import PHYSICAL, US_METHODS

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray


def humid_air_o2_pct(water_share: ArrayLike) -> FloatArray:
    """Return the oxygen of humid air [% by volume], any shape.

    water_share: water vapor in the air [fraction], 0 to 0.2.
    Raises: FlueGasError.
    Source: Dalton, O2 = 20.946 (1 - x).
    """
    return PHYSICAL.pct * (1.0 - within(water_share, "water in the air", 0.0, 0.2, "(fraction)"))


def combustion_air_at(air_c: float, humidity_pct: float, pressure_hpa: float = NORMAL_HPA) -> CombustionAir:
    """Return the combustion air of a room.

    air_c [degC], 0 to 60; humidity_pct: relative [%]; pressure_hpa: absolute, at the place [hPa], 500 to 1100.
    Raises: AirError.
    Source: Dalton, x = RH p_sat / p.
    """
    return CombustionAir(water_share=float(water_share_of_air(air_c, humidity_pct, pressure_hpa)))


def set_in_humid_air_gain(water_share: ArrayLike, set_to_pct: float = US_METHODS.pct) -> FloatArray:
    """Return the gain that an O2 channel takes on when it calls humid air set_to_pct [-], any shape.

    Above 1 it reads high: 1.05 in air of 35 degC and 90 %. Only where the cell meets the humid air; with a cooler and
    trap before the cell the air is nearly dry.
    Raises: FlueGasError.
    Source: own derivation, set_to / (20.946 (1 - x)).
    """
    if not 20.0 <= set_to_pct <= 21.5:
        raise AirError(f"air called {set_to_pct!r} % O2: allowed is 20 to 21.5 %.")
    return set_to_pct / humid_air_o2_pct(water_share)


def partial_pressure_reading_pct(
    o2_pct: ArrayLike, pressure_hpa: ArrayLike, set_pressure_hpa: float = NORMAL_HPA
) -> FloatArray:
    """Return what a membrane cell, which answers to partial pressure, shows at another air pressure [% by volume].

    o2_pct: true share [%], any shape; pressure_hpa: absolute, now; set_pressure_hpa: when it was set [hPa]. A
    capillary cell answers to the share and does not follow.
    Raises: FlueGasError.
    Source: Dalton; which cell follows: from memory.
    """
    now = within(pressure_hpa, "air pressure", 500.0, 1100.0, "hPa, absolute")
    then = within(set_pressure_hpa, "air pressure when it was set", 500.0, 1100.0, "hPa, absolute")
    return within(o2_pct, "O2", 0.0, 100.0, "%") * now / then
