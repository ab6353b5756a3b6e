"""One application of gas: what every channel shows from gas on to the end of the hold."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from flueproof.simulate.physics.response import correlated_noise, step_share
from flueproof.simulate.physics.sensing import gas_shown

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    import numpy.typing as npt

    from flueproof.simulate.physics.display import Display
    from flueproof.simulate.physics.sensing import Room
    from flueproof.simulate.truth import Truth

NOISE_STEPS = 0.3
"""Noise of a channel without its own figure: sd in display steps [-] (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Gas:
    """Gas on the analyzer's cells.

    content: at the inlet by gas [their own units]; dilution: share of room air [-]; lag_s: a clogged filter [s].
    """

    content: Mapping[str, float]
    dilution: float = 0.0
    lag_s: float = 0.0


@dataclass(frozen=True, slots=True)
class GasChannel:
    """A gas channel of the profile with its display and how well applications repeat.

    zeroed_in_air: whether the unit sets it in room air, to set_to [unit of the channel]; repeat_s: standard
    deviation of applications at a value [unit of the channel], a function of that value.
    """

    name: str
    display: Display
    zeroed_in_air: bool
    set_to: float
    repeat_s: Callable[[float], float]


def end_value(truth: Truth, channel: GasChannel, gas: Gas, room: Room, zeroed_in_co_ppm: float) -> float:
    """Return what a channel goes to on a gas [unit of the channel], nan when it is missing.

    zeroed_in_co_ppm: CO in the room when the unit zeroed itself [ppm].
    Source: as `flueproof.simulate.physics.sensing.gas_shown`.
    """
    if channel.name in truth.missing:
        return math.nan
    taken = zeroed_in_co_ppm if channel.zeroed_in_air else None
    shown = gas_shown(truth, channel.name, gas.content, gas.dilution, room, zeroed_in_co_ppm=taken)
    return shown if channel.name == "o2" or taken is None else shown + channel.set_to


def repeat_deviation(truth: Truth, channel: GasChannel, end: float, generator: np.random.Generator) -> float:
    """Return how this application differs from the next one [unit of the channel].

    Normal with the profile's repeatability at that value, times the truth's factor.
    Source: bench-record.md, "Readings": a repeat is a second application; normal: common practice, no source.
    """
    return truth.repeatability * channel.repeat_s(end) * float(generator.standard_normal())


def channel_course(
    truth: Truth,
    channel: GasChannel,
    start: float,
    end: float,
    times_s: npt.NDArray[np.float64],
    gas_on_s: float,
    lag_s: float,
    generator: np.random.Generator,
) -> npt.NDArray[np.float64]:
    """Return the values behind the display from gas on to the end [unit of the channel], shape as times_s.

    start, end: before gas and in the end [unit of the channel]; times_s: from the step's start [s]; gas_on_s: when
    the gas was put on [s]; lag_s: lag of the filter [s].
    Source: response model of the team's reference sheet, section 6 (own).
    """
    share = step_share(times_s - gas_on_s, truth.response_of(channel.name), lag_s)
    sd = truth.noise.get(channel.name, NOISE_STEPS * channel.display.step)
    noise = correlated_noise(times_s, sd, truth.noise_time_s, generator)
    course: npt.NDArray[np.float64] = start + (end - start) * share + noise
    return course


def application_readings(
    truth: Truth,
    channels: Sequence[GasChannel],
    before: Gas,
    gas: Gas,
    room: Room,
    zeroed_in_co_ppm: float,
    times_s: Sequence[float],
    generator: np.random.Generator,
    *,
    gas_on_s: float,
    only_settled: bool = False,
) -> list[dict[str, Any]]:
    """Return the `readings` of one step, one per channel, as bench-record.md writes them.

    before, gas: what flowed before and what is put on; times_s: looks from the step's start [s]; only_settled: leave
    the times out, as a person does who writes down a display that has settled.
    Source: bench-record.md, "Readings".
    """
    grid = np.asarray(times_s, dtype=float)
    readings: list[dict[str, Any]] = []
    for channel in channels:
        start = end_value(truth, channel, before, room, zeroed_in_co_ppm)
        end = end_value(truth, channel, gas, room, zeroed_in_co_ppm)
        if math.isfinite(end) and gas is not before:
            end += repeat_deviation(truth, channel, end, generator)
        course = channel_course(truth, channel, start, end, grid, gas_on_s, gas.lag_s, generator)
        reading: dict[str, Any] = {
            "channel": channel.name,
            "unit": channel.display.unit,
            "step": channel.display.step,
        }
        if not only_settled:
            reading["t_s"] = [int(time) if float(time).is_integer() else float(time) for time in times_s]
        reading["shown"] = channel.display.show(course.tolist())
        readings.append(reading)
    return readings
