"""The settled value of one channel at one application."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SettledValue:
    """What a reading goes to, with its uncertainty; all values in the unit of the channel.

    value: nan where the display gave only a bound; u: standard uncertainty from settling, noise and display step;
    dof: its degrees of freedom [-]; low, high: interval at the asked level.
    settled: whether the settling part is small enough; more_s: about how much longer to wait [s].
    displayed_at_hold: what the owner would read at the profile's hold time: number, text or None.
    t50_s, t90_s, t95_s: from gas on until the display itself had made that share of the step [s]; inf when it had not
    by the end of the trace, nan when there was no step or no times. dead_s: until it first moves [s]; gas_on_s: when
    gas was put on, given or found [s].
    bound: None, "above", "below", "snapped" or "absent"; u_settling, u_noise, u_step: parts of u; start: reading before
    the step; fast_s, tail_share, slow_s: shape of the response [s], [-], [s].
    """

    value: float
    u: float
    dof: float = math.inf
    low: float = math.nan
    high: float = math.nan
    settled: bool = True
    more_s: float = 0.0
    displayed_at_hold: float | str | None = None
    t50_s: float = math.nan
    t90_s: float = math.nan
    t95_s: float = math.nan
    dead_s: float = math.nan
    gas_on_s: float = math.nan
    bound: str | None = None
    u_settling: float = 0.0
    u_noise: float = 0.0
    u_step: float = 0.0
    reason: str = ""
    start: float = math.nan
    fast_s: float = math.nan
    tail_share: float = math.nan
    slow_s: float = math.nan
    gas_on_found: bool = False
