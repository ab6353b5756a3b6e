"""A mixture of normal distributions: moments and interval."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Mixture:
    """Normal distributions with weights that sum to one.

    weights [-], means [unit], sds [unit]: shape (parts,).
    """

    weights: FloatArray
    means: FloatArray
    sds: FloatArray

    @property
    def mean(self) -> float:
        """Mean [unit]. Source: textbook."""
        return float(self.weights @ self.means)

    @property
    def sd(self) -> float:
        """Standard deviation [unit]. Source: law of total variance, textbook."""
        return float(np.sqrt(self.weights @ (self.sds**2 + (self.means - self.mean) ** 2)))

    def below(self, value: float) -> float:
        """Return the probability of less than `value` [unit], [-]. Source: textbook."""
        scaled = (value - self.means) / (self.sds * math.sqrt(2.0))
        return 0.5 + 0.5 * float(self.weights @ [math.erf(place) for place in scaled.tolist()])

    def density(self, value: float) -> float:
        """Return the probability density at `value` [unit], [1/unit]. Source: textbook."""
        scaled = (value - self.means) / self.sds
        return float(self.weights @ (np.exp(-0.5 * scaled * scaled) / self.sds)) / math.sqrt(2.0 * math.pi)

    def quantile(self, share: float) -> float:
        """Return the value [unit] with probability `share` [-] below it (Newton steps kept in a bracket, textbook)."""
        spread = self.sd
        low, high = self.mean - 9.0 * spread, self.mean + 9.0 * spread
        value = self.mean + (2.0 if share > 0.5 else -2.0) * spread * min(1.0, abs(4.0 * (share - 0.5)))
        for turn in range(120):
            off = self.below(value) - share
            low, high = (low, value) if off > 0.0 else (value, high)
            slope = self.density(value)
            following = value - off / slope if slope > 0.0 else low
            if (turn > 9 and turn % 3 == 0) or not low < following < high:  # Newton steps may go round in circles
                following = 0.5 * (low + high)
            if abs(following - value) < 1e-7 * spread:
                return following
            value = following
        return value


def mixture_of(log_weights: FloatArray, means: FloatArray, sds: FloatArray, *, drop: float = 1e-3) -> Mixture:
    """Return a mixture from unscaled log weights, its faintest parts dropped.

    log_weights, means [unit], sds [unit]: any one shape; drop: weight relative to the heaviest part below which a part
    is left out [-].
    Source: own rule.
    """
    weights = np.exp(log_weights.ravel() - np.max(log_weights))
    keep = weights >= drop
    weights = weights[keep]
    return Mixture(weights / weights.sum(), means.ravel()[keep], sds.ravel()[keep])
