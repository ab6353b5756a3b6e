"""Response time as the instrument shows it, and what is displayed at the hold time.

A level counts as reached when the display itself reached it. The level is a share of the step to the settled value,
so neither a short trace nor the extrapolation rescues a slow cell: not reached within the trace is inf.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from flueproof.readings.response.model import curve
from flueproof.readings.shown import Looks
from flueproof.readings.switching import crossing_s, smoothed

FloatArray = NDArray[np.float64]

SPARSE_S = 5.0  # looks further apart than this were typed by a person (own rule)


def is_sparse(times_s: FloatArray) -> bool:
    """Tell whether looks are so far apart or so few [s] that a person typed them. Source: own rule."""
    return len(times_s) < 12 or float(np.median(np.diff(times_s))) >= SPARSE_S


def time_to_share_s(
    times_s: FloatArray,
    values: FloatArray,
    share: float,
    *,
    start: float,
    settled: float,
    gas_on_s: float,
    shape: FloatArray | None = None,
) -> float:
    """Return how long after gas on the display reached a share of the step [s]; inf when it did not in the trace.

    times_s: [s]; values: as shown [unit]; share: of the step from `start` to `settled` [-]; gas_on_s: [s]; shape: ln
    tau1, tail share, ln tau2, dead of the fit, used only to place the crossing between two typed looks.
    Source: T90 as the time to 90 % of a step, ZZZZ and EN usage (from memory); own rule for typed looks.
    """
    level = start + share * (settled - start)
    rising = settled > start
    after = times_s >= gas_on_s
    times, shown = times_s[after], values[after]
    if not len(times):
        return math.inf
    sparse = is_sparse(times)
    at_s = crossing_s(times, shown if sparse else smoothed(shown), level, rising=rising)
    if sparse and shape is not None and math.isfinite(at_s):
        place = int(np.searchsorted(times, at_s, side="left"))
        earliest = float(times[place - 1]) if place else gas_on_s
        modelled = gas_on_s + _modelled_share_s(share, shape)
        at_s = min(max(modelled, earliest), float(times[min(place, len(times) - 1)]))
    return at_s - gas_on_s


def _modelled_share_s(share: float, shape: FloatArray) -> float:
    unknowns = np.array([[0.0, 1.0 - shape[1], shape[1], shape[0], shape[3]]])
    times = np.linspace(0.0, 1200.0, 4801)
    return crossing_s(times, curve(times, unknowns, np.exp(shape[2:3]))[0][0], share, rising=True)


def displayed_at(looks: Looks, hold_s: float | None, gas_on_s: float) -> float | str | None:
    """Return what the owner would read at the hold time: number [unit of the channel], text, or None.

    hold_s: the profile's hold after gas on [s], None: the last look; gas_on_s: [s]. The last look not later than the
    hold counts; None when the trace ends more than a tenth of the hold, or 10 s, before it.
    Source: own rule.
    """
    if looks.times_s is None or hold_s is None:
        return looks.shown_at(len(looks) - 1)
    at_s = gas_on_s + hold_s
    until = np.flatnonzero(looks.times_s <= at_s + 1e-9)
    if not until.size or looks.times_s[-1] < at_s - max(10.0, 0.1 * hold_s):
        return None
    return looks.shown_at(int(until[-1]))
