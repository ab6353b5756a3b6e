"""Room air drawn into the sample: what it does to a test gas, and how much of it an O2 reading shows."""

from __future__ import annotations

import math
from typing import NamedTuple

from flueproof.testgas.ambient import AmbientO2
from flueproof.testgas.blend import GASES, Blend
from flueproof.testgas.errors import DilutionError

SET_TO_O2_PCT = 20.9


class Dilution(NamedTuple):
    """Share of room air in the sample [fraction] and its standard uncertainty [fraction]."""

    fraction: float
    u: float


def diluted(gas_value: float, fraction: float, air_value: float = 0.0) -> float:
    """Return what is left of a component once room air is drawn in [unit of the values].

    gas_value, air_value: in the gas and in the room air [one unit]; fraction: share of room air [fraction], 0 to 1.
    Raises: DilutionError.
    Source: mixing balance, x = (1 - f) x_gas + f x_air.
    """
    if not 0.0 <= fraction <= 1.0:
        raise DilutionError(f"share of room air {fraction!r}: allowed is 0 to 1.")
    return (1.0 - fraction) * gas_value + fraction * air_value


def diluted_blend(blend: Blend, fraction: float, air: AmbientO2, room_co_ppm: float = 0.0) -> dict[str, float]:
    """Return what the sample holds of every gas: O2 in %, the others in ppm.

    fraction: share of room air [fraction]; air: its oxygen, humidity in it; room_co_ppm [ppm].
    Raises: DilutionError.
    Source: mixing balance; O2 of the air: ambient.py.
    """
    in_air = {"o2": air.value, "co": room_co_ppm}
    return {
        gas: diluted(blend.component(gas, "%" if gas == "o2" else "ppm").value, fraction, in_air.get(gas, 0.0))
        for gas in GASES
    }


def dilution_from_o2(
    o2_pct: float,
    o2_gas_pct: float,
    *,
    o2_air_pct: float = SET_TO_O2_PCT,
    u_o2_pct: float = 0.0,
    u_o2_gas_pct: float = 0.0,
    u_o2_air_pct: float = 0.0,
) -> Dilution:
    """Return the share of room air that an O2 reading shows; it may come out a little below zero.

    o2_pct: settled reading, cell zero taken off [%]; o2_gas_pct: in the gas [%]; o2_air_pct: what the unit shows in
    room air [%]: 20.9 exactly for a unit that sets itself to 20.9 there, whatever the humidity, else the air's true
    share; u_...: standard uncertainties [%].
    Raises: DilutionError when gas and air hold nearly the same O2.
    Source: mixing balance, f = (O2 - O2_gas) / (O2_air - O2_gas); uncertainty: JCGM 100:2008, 5.1.2.
    """
    span = o2_air_pct - o2_gas_pct
    if span < 1.0:
        raise DilutionError(
            f"gas with {o2_gas_pct:g} % O2 against air with {o2_air_pct:g} % cannot show a leak: take a gas low in O2."
        )
    fraction = (o2_pct - o2_gas_pct) / span
    u = math.hypot(u_o2_pct, (1.0 - fraction) * u_o2_gas_pct, fraction * u_o2_air_pct) / span
    return Dilution(fraction, u)


def undiluted(shown: float, fraction: float, air_value: float = 0.0) -> float:
    """Return a reading with the room air taken out [unit of the reading].

    fraction: share of room air [fraction], 0 to below 1.
    Raises: DilutionError.
    Source: mixing balance, x_gas = (x - f x_air) / (1 - f).
    """
    if not 0.0 <= fraction < 1.0:
        raise DilutionError(f"share of room air {fraction!r}: allowed is 0 to below 1.")
    return (shown - fraction * air_value) / (1.0 - fraction)
