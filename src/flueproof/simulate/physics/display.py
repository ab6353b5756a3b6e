"""What a display makes of a value: clamp, snap, over-range text, missing sensor, display step, unit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flueproof.analyzer.units import difference_from_core, from_core

if TYPE_CHECKING:
    from collections.abc import Iterable

    from flueproof.analyzer.profile import Channel

US_UNITS = {"degC": "degF", "Pa": "inH2O"}
OVER = "OVER"
ABSENT = "----"


@dataclass(frozen=True, slots=True)
class Display:
    """How one channel is shown.

    unit: unit on the display; core_unit: unit of the values behind it; step: its last digit [unit]; high: text OVER
    above it [core unit]; clamp_low: it cannot show less [core unit]; snap_to, snap_width: values this near show snap_to
    [core unit]; None where absent.
    """

    channel: str
    unit: str
    core_unit: str
    step: float
    high: float = math.inf
    clamp_low: float | None = None
    snap_to: float | None = None
    snap_width: float = 0.0

    def show(self, values: Iterable[float]) -> list[float | int | str]:
        """Return values as shown: numbers on the display step, or text.

        values: [core unit: %, ppm, degC, Pa], nan for a missing sensor.
        Source: bench-record.md, "Readings"; common practice for the texts, no source.
        """
        return [self._show_one(value) for value in values]

    def _show_one(self, value: float) -> float | int | str:
        if math.isnan(value):
            return ABSENT
        if value > self.high:
            return OVER
        if self.clamp_low is not None and value < self.clamp_low:
            value = self.clamp_low
        if self.snap_to is not None and abs(value - self.snap_to) <= self.snap_width:
            value = self.snap_to
        return on_step(from_core(value, self.unit, self.core_unit), self.step)


def on_step(value: float, step: float) -> float | int:
    """Return a value rounded to a multiple of the display step, whole numbers as int [unit of value].

    Source: common practice, no source (half to even).
    """
    digits = max(0, -math.floor(math.log10(step) + 1e-9))
    shown = round(round(value / step) * step, digits)
    return int(shown) if digits == 0 else shown + 0.0


def display_of(channel: Channel, *, us_units: bool = False) -> Display:
    """Return how a profile's channel is shown, in us units (degF, inH2O) when asked.

    A converted display step is the next decade, 0.3 decades finer at most.
    Source: own choice of the converted step.
    """
    unit, step = channel.unit, channel.step
    if us_units and unit in US_UNITS:
        unit = US_UNITS[unit]
        step = 10.0 ** math.ceil(math.log10(difference_from_core(channel.step, unit, channel.unit)) - 0.3)
    return Display(
        channel.name, unit, channel.unit, step, channel.high, channel.clamp_low, channel.snap_to, channel.snap_width
    )
