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
        return sum(
            weight * 0.5 * (1.0 + math.erf(place))
            for weight, place in zip(self.weights.tolist(), scaled.tolist(), strict=True)
        )

    def quantile(self, share: float) -> float:
        """Return the value [unit] with probability `share` [-] below it (bisection to 1e-6 sd, own rule)."""
        low, high = self.mean - 9.0 * self.sd, self.mean + 9.0 * self.sd
        while high - low > 1e-5 * self.sd:
            middle = 0.5 * (low + high)
            low, high = (middle, high) if self.below(middle) < share else (low, middle)
        return 0.5 * (low + high)


def mixture_of(log_weights: FloatArray, means: FloatArray, sds: FloatArray, *, drop: float = 1e-3) -> Mixture:
    """Return a mixture from unscaled log weights, its faintest parts dropped.

    log_weights, means [unit], sds [unit]: any one shape; drop: weight relative to the heaviest part below which a part
    is left out [-].
    Source: own rule.
    """
    weights = np.exp(log_weights.ravel() - log_weights.max())
    keep = weights >= drop
    weights = weights[keep]
    return Mixture(weights / weights.sum(), means.ravel()[keep], sds.ravel()[keep])
