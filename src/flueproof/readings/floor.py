"""A display that cannot go below a floor settles at the floor, not below it."""

from __future__ import annotations

import dataclasses
import math

from flueproof.readings.settled import SettledValue


def floored(settled: SettledValue, floor: float | None) -> SettledValue:
    """Return the settled value of a display that cannot show less than `floor` [unit of the channel].

    What the reading would go to is a distribution; the display shows the larger of it and the floor. Value and u are
    the mean and standard deviation of that larger one, its settling part is scaled alike. None leaves all as it is.
    Source: moments of a normal quantity cut at a floor, own derivation (checked by simulation).
    """
    if floor is None or settled.bound is not None or not settled.u > 0.0:
        return settled
    z = (settled.value - floor) / settled.u
    if z > 6.0:
        return settled
    density = math.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi)
    share = 0.5 * math.erfc(-z / math.sqrt(2.0))
    mean = settled.u * (z * share + density)
    square = settled.u**2 * ((1.0 + z * z) * share + z * density)
    u = math.sqrt(max(square - mean * mean, 0.0))
    scale = u / settled.u
    return dataclasses.replace(
        settled,
        value=floor + mean,
        u=u,
        low=max(settled.low, floor),
        high=max(settled.high, floor),
        u_settling=settled.u_settling * scale,
        u_noise=settled.u_noise * scale,
        u_step=settled.u_step * scale,
    )
