"""A straight axis: from values to places on the paper, with ticks at round numbers."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Axis:
    """A linear axis; `low` and `high` [unit of the value] lie at `start` and `end` [pt]."""

    low: float
    high: float
    start: float
    end: float

    def place(self, value: float) -> float:
        """Return where a value lies [pt].

        Source: common practice, no source.
        """
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)

    def held(self, value: float) -> float:
        """Return the place [pt] of a value, moved to the nearer end where it lies outside.

        Source: common practice, no source.
        """
        return self.place(min(max(value, self.low), self.high))

    def holds(self, value: float) -> bool:
        """Return whether a value [unit of the axis] lies on the axis.

        Source: common practice, no source.
        """
        return self.low <= value <= self.high


def tick_step(span: float, about: int = 5) -> float:
    """Return a round step, 1, 2 or 5 times a power of ten, that cuts `span` [any unit] into about `about` parts.

    Raises: ValueError where the span is not positive.
    Source: common practice, no source.
    """
    if not (span > 0 and math.isfinite(span)):
        raise ValueError(f"an axis needs a positive finite span, got {span}")
    raw = span / about
    power = 10.0 ** math.floor(math.log10(raw))
    return next(step * power for step in (1.0, 2.0, 5.0, 10.0) if raw <= step * power * (1 + 1e-9))


def ticks(low: float, high: float, about: int = 5) -> tuple[tuple[float, str], ...]:
    """Return the round values between `low` and `high` [any unit] with their text.

    Source: common practice, no source.
    """
    step = tick_step(high - low, about)
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return tuple((count * step, tick_text(count * step, decimals)) for count in range(first, last + 1))


def tick_text(value: float, decimals: int) -> str:
    """Return a tick's value [any unit] with a true minus sign and never "-0".

    Source: common practice, no source.
    """
    shown = f"{abs(value):.{decimals}f}"
    return "\u2212" + shown if value < 0 and float(shown) != 0 else shown
