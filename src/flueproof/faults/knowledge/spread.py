"""How a measured number scatters under a cause: normal or uniform, the measurement's own uncertainty folded in."""

from __future__ import annotations

import math
from dataclasses import dataclass

_SQRT2 = math.sqrt(2.0)
_SQRT_TAU = math.sqrt(2.0 * math.pi)


@dataclass(frozen=True, slots=True)
class Spread:
    """A distribution of true values [unit of the observation, or its natural logarithm].

    shape: `normal` (first = mean, second = standard deviation) or `uniform` (first = low, second = high).
    """

    shape: str
    first: float
    second: float

    @property
    def middle(self) -> float:
        """Return the mean [same unit]."""
        return self.first if self.shape == "normal" else 0.5 * (self.first + self.second)

    @property
    def deviation(self) -> float:
        """Return the standard deviation [same unit]."""
        return self.second if self.shape == "normal" else (self.second - self.first) / math.sqrt(12.0)

    def density(self, value: float, u: float) -> float:
        """Return the density of a measured value with standard uncertainty u [1/unit]."""
        if self.shape == "normal":
            width = math.hypot(self.second, u)
            return math.exp(-0.5 * ((value - self.first) / width) ** 2) / (_SQRT_TAU * width)
        if u <= 0.0:
            return 1.0 / (self.second - self.first) if self.first <= value <= self.second else 0.0
        share = normal_share((self.second - value) / u) - normal_share((self.first - value) / u)
        return share / (self.second - self.first)

    def below(self, value: float, u: float) -> float:
        """Return the probability that a measured value lies below one [-]."""
        if self.shape == "normal":
            return normal_share((value - self.first) / math.hypot(self.second, u))
        if u <= 0.0:
            return min(1.0, max(0.0, (value - self.first) / (self.second - self.first)))
        return (_ramp((value - self.first) / u) - _ramp((value - self.second) / u)) * u / (self.second - self.first)


def normal_share(z: float) -> float:
    """Return the standard normal distribution function [-]."""
    return 0.5 * math.erfc(-z / _SQRT2)


def _ramp(z: float) -> float:
    """Return the integral of the standard normal distribution function up to z [-]."""
    return z * normal_share(z) + math.exp(-0.5 * z * z) / _SQRT_TAU
