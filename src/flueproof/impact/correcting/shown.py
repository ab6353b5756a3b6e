"""What the owner's convention makes of the values as they were shown: the bare formulas."""

from __future__ import annotations

import numpy as np

from flueproof.chemistry.shipped_table import shipped_table
from flueproof.impact.correcting.convention import Convention
from flueproof.impact.correcting.readings import FieldReadings, FloatArray


def shown_quantities(readings: FieldReadings, convention: Convention) -> dict[str, FloatArray]:
    """Return all quantities from the values as they were shown, by the convention's bare formulas."""
    o2 = flue_o2(readings.o2_pct)
    oxygen = convention.air_free_oxygen_pct
    warm = readings.stack_c > readings.air_c
    loss = np.full(len(readings), np.nan)
    if convention.loss is not None:
        loss = np.where(warm, convention.loss.pct(o2, readings.stack_c, readings.air_c), np.nan)
    return {
        "o2_pct": readings.o2_pct,
        "co_ppm": readings.co_ppm,
        "stack_c": readings.stack_c,
        "air_c": readings.air_c,
        "co_air_free_ppm": readings.co_ppm * oxygen / (oxygen - o2),
        "excess_air_pct": 100.0 * convention.excess_air_factor * o2 / (convention.excess_air_oxygen_pct - o2),
        "loss_pct": loss,
        "efficiency_pct": 100.0 - loss,
        "own_efficiency_pct": readings.own_efficiency_pct,
    }


def flue_o2(o2_pct: FloatArray) -> FloatArray:
    """Return O2 where flue gas can be computed from it [%], nan where the sample is nearly air."""
    fit = o2_pct < bounds_o2()[1]
    return o2_pct if fit.all() else np.where(fit, o2_pct, np.nan)


def bounds_o2() -> tuple[float, float]:
    """Return O2 above which a correction for air is doubtful, and from which it is refused [%]."""
    table = shipped_table("validity")["air_free"]
    return table["doubtful_above_pct"], table["refused_from_pct"]
