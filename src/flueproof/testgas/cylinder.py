"""What is left in a cylinder: litres at room conditions, litres that may be used, tests.

A litre here is a litre of free gas at 21.1 degC (70 degF) and 101.325 kPa. Gauge pressures are above the room's.
"""

from __future__ import annotations

import math

from flueproof.testgas.errors import CylinderError
from flueproof.testgas.real_gas import HIGHEST_KPA, KELVIN, compressibility
from flueproof.testgas.shipped_table import shipped_table

FREE_C = 21.1
ATMOSPHERE_KPA = 101.325
MINIMUM_KPA = float(shipped_table("shelf_life")["minimum_pressure"]["kpa"])


def litres_left(
    gauge_kpa: float,
    water_volume_l: float,
    temperature_c: float = FREE_C,
    gas: str = "nitrogen",
    room_kpa: float = ATMOSPHERE_KPA,
) -> float:
    """Return the free gas in a cylinder [L at 21.1 degC, 101.325 kPa], the part that never comes out included.

    gauge_kpa [kPa above the room]; water_volume_l [L]; temperature_c: of the cylinder [degC]; gas: its balance.
    Raises: CylinderError outside the range of the gas equation.
    Source: n = p V / (Z R T); Z see real_gas.py.
    """
    if not (math.isfinite(water_volume_l) and 0.0 < water_volume_l <= 200.0):
        raise CylinderError(
            f"water volume {water_volume_l!r} L: allowed is above 0 to 200 L (stamped on the cylinder)."
        )
    if not (math.isfinite(gauge_kpa) and gauge_kpa >= 0.0):
        raise CylinderError(f"gauge pressure {gauge_kpa!r} kPa: allowed is 0 or more.")
    absolute = gauge_kpa + room_kpa
    inside = absolute / (float(compressibility(absolute, temperature_c, gas)) * (temperature_c + KELVIN))
    free = ATMOSPHERE_KPA / (float(compressibility(ATMOSPHERE_KPA, FREE_C, gas)) * (FREE_C + KELVIN))
    return water_volume_l * inside / free


def usable_litres(
    gauge_kpa: float,
    water_volume_l: float,
    temperature_c: float = FREE_C,
    gas: str = "nitrogen",
    *,
    minimum_kpa: float = MINIMUM_KPA,
    room_kpa: float = ATMOSPHERE_KPA,
) -> float:
    """Return the free gas that may be drawn down to the minimum pressure [L at 21.1 degC, 101.325 kPa], 0 below it.

    minimum_kpa: lowest gauge pressure at which the value still holds, read at 21.1 degC [kPa]; others as litres_left.
    Raises: CylinderError.
    Source: as litres_left; 690 kPa (100 psig): EPA Traceability Protocol 2012, section 2.1, from memory.
    """
    now = litres_left(gauge_kpa, water_volume_l, temperature_c, gas, room_kpa)
    return max(0.0, now - litres_left(minimum_kpa, water_volume_l, FREE_C, gas, room_kpa))


def tests_left(usable_l: float, flow_l_min: float, minutes: float) -> int:
    """Return how many whole tests the usable gas is good for [-].

    usable_l [L]; flow_l_min: supply flow, vent included [L/min]; minutes: gas on per test [min].
    Raises: CylinderError.
    Source: common practice, no source (litres per test = flow x time).
    """
    if not (flow_l_min > 0.0 and minutes > 0.0 and usable_l >= 0.0):
        raise CylinderError(
            f"{usable_l!r} L at {flow_l_min!r} L/min for {minutes!r} min: flow and time must be above 0."
        )
    return math.floor(usable_l / (flow_l_min * minutes) + 1e-9)


tests_left.__test__ = False  # type: ignore[attr-defined]  # a test runner takes the name for a test


def water_volume_l(
    nominal_litres: float, fill_kpa: float, gas: str = "nitrogen", room_kpa: float = ATMOSPHERE_KPA
) -> float:
    """Return the water volume of a cylinder from its nominal content and fill pressure at 21.1 degC [L].

    nominal_litres [L free gas]; fill_kpa: gauge [kPa].
    Raises: CylinderError.
    Source: as litres_left.
    """
    return nominal_litres / litres_left(fill_kpa, 1.0, FREE_C, gas, room_kpa)


def gauge_at(
    gauge_kpa: float, from_c: float, to_c: float = FREE_C, gas: str = "nitrogen", room_kpa: float = ATMOSPHERE_KPA
) -> float:
    """Return what the gauge of the same closed cylinder shows at another temperature [kPa above the room].

    A cold cylinder reads low: correct to 21.1 degC before comparing with the minimum pressure.
    Raises: CylinderError.
    Source: n = p V / (Z R T) at constant n and V; Z see real_gas.py.
    """
    content = litres_left(gauge_kpa, 1.0, from_c, gas, room_kpa)
    low, high = -room_kpa * 0.999, 29_800.0
    for _ in range(80):
        middle = 0.5 * (low + high)
        absolute = middle + room_kpa
        held = absolute / (float(compressibility(absolute, to_c, gas)) * (to_c + KELVIN))
        per_litre = ATMOSPHERE_KPA / (float(compressibility(ATMOSPHERE_KPA, FREE_C, gas)) * (FREE_C + KELVIN))
        low, high = (middle, high) if held / per_litre < content else (low, middle)
    return 0.5 * (low + high)


def gauge_holding(
    litres: float,
    water_volume_l: float,
    temperature_c: float = FREE_C,
    gas: str = "nitrogen",
    room_kpa: float = ATMOSPHERE_KPA,
) -> float:
    """Return the gauge pressure at which a cylinder holds this much free gas [kPa above the room], 0 when none flows.

    litres: free gas at 21.1 degC and 101.325 kPa [L], the part that never comes out included; others as litres_left.
    Raises: CylinderError outside the range of the gas equation.
    Source: litres_left, solved for the pressure (Brent's method).
    """
    highest = HIGHEST_KPA - room_kpa
    if litres <= litres_left(0.0, water_volume_l, temperature_c, gas, room_kpa):
        return 0.0
    if litres > litres_left(highest, water_volume_l, temperature_c, gas, room_kpa):
        raise CylinderError(f"{litres:g} L do not go into {water_volume_l:g} L below {HIGHEST_KPA:g} kPa.")

    def missing(gauge_kpa: float) -> float:
        return litres_left(gauge_kpa, water_volume_l, temperature_c, gas, room_kpa) - litres

    from scipy.optimize import brentq  # noqa: PLC0415 -- half a second of import that few commands need

    return float(brentq(missing, 0.0, highest, xtol=1e-3))
