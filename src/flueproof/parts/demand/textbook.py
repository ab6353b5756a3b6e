"""Reorder points as a textbook has them, for rates that are exactly known; ours must come near them with many data."""

from __future__ import annotations

import math
from statistics import NormalDist

from flueproof.parts.demand.rate import enough_for
from flueproof.parts.errors import UnusableNumberError


def reorder_point_normal(
    mean_a_day: float, deviation_a_day: float, lead_days: float, lead_deviation_days: float, share: float
) -> float:
    """Return the reorder point for normal demand and lead time, independent of each other [pieces].

    mean_a_day, deviation_a_day: demand of a day [pieces]; lead_days, lead_deviation_days: lead time [d]; share: cycle
    service level, the probability of no stock-out in a cycle. r = d L + z sqrt(L s_d^2 + d^2 s_L^2).
    Raises: UnusableNumberError.
    Source: Silver, Pyke and Peterson, Inventory Management and Production Planning and Scheduling, 3rd ed., chapter 7;
    from memory.
    """
    if min(mean_a_day, deviation_a_day, lead_days, lead_deviation_days) < 0 or not 0 < share < 1:
        raise UnusableNumberError("demand, lead time and spreads are not negative, the share lies between 0 and 1")
    spread = math.sqrt(lead_days * deviation_a_day**2 + (mean_a_day * lead_deviation_days) ** 2)
    return mean_a_day * lead_days + NormalDist().inv_cdf(share) * spread


def reorder_point_poisson(mean: float, share: float) -> int:
    """Return the smallest stock that covers Poisson demand of a lead time with this probability [pieces].

    mean: demand in the lead time [pieces], not negative, at most 700; share: as above. Raises: UnusableNumberError.
    Source: Silver, Pyke and Peterson, 3rd ed., chapter 7 (slow-moving items); from memory.
    """
    if not 0 <= mean <= 700:
        raise UnusableNumberError(f"a mean of {mean}; give one from 0 to 700")
    chances = [math.exp(-mean)]
    while sum(chances) < 1 - 1e-12 and len(chances) < 5000:
        chances.append(chances[-1] * mean / len(chances))
    return enough_for(chances, share)


def economic_quantity(use_a_year: float, cost_of_an_order: float, holding_a_year: float) -> float:
    """Return the order quantity that costs least [pieces]: sqrt(2 D K / h).

    use_a_year: D [pieces]; cost_of_an_order: K and holding_a_year: h, per piece [same currency], h above 0.
    Raises: UnusableNumberError. Source: Harris 1913, as every textbook has it; from memory.
    """
    if use_a_year < 0 or cost_of_an_order < 0 or not holding_a_year > 0:
        raise UnusableNumberError("use and cost of an order are not negative, holding costs something")
    return math.sqrt(2 * use_a_year * cost_of_an_order / holding_a_year)
