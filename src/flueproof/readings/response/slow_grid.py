"""The grid of slow time constants, with what is known of the other shape values at each."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flueproof.readings.response.prior import ResponsePrior

FloatArray = NDArray[np.float64]

NODES = 15
REACH = 2.6  # standard deviations of ln(tau2) covered on each side (own choice)
SLOW = 2
OTHERS = [0, 1, 3]


@dataclass(frozen=True, slots=True)
class SlowGrid:
    """Slow time constants and the conditional prior of the rest.

    slow_s: tau2 [s], shape (nodes,); log_weight: prior weight, shape (nodes,); mean: of ln tau1, tail share, dead [s]
    given tau2, shape (nodes, 3); precision: inverse of their covariance given tau2, shape (3, 3).
    Source: conditional normal distribution, textbook.
    """

    slow_s: FloatArray
    log_weight: FloatArray
    mean: FloatArray
    precision: FloatArray

    def only(self, node: int) -> SlowGrid:
        """Return the grid with one node [s] only (own rule)."""
        at = slice(node, node + 1)
        return SlowGrid(self.slow_s[at], self.log_weight[at], self.mean[at], self.precision)


def slow_grid(
    prior: ResponsePrior, switch_sd_s: float = 0.0, *, between_s: tuple[float, float] | None = None
) -> SlowGrid:
    """Return the grid of slow time constants for a prior.

    switch_sd_s: uncertainty of the moment of gas on [s], added to the dead time's; between_s: slow time constants that
    the grid spans [s], None: 2.6 standard deviations of the prior on each side.
    Source: conditional normal distribution, textbook.
    """
    mean = np.asarray(prior.mean)
    spread = np.array(prior.covariance)
    spread[3, 3] += switch_sd_s**2
    sd = float(np.sqrt(spread[SLOW, SLOW]))
    ends = (-REACH * sd, REACH * sd)
    if between_s is not None:
        ends = (float(np.log(between_s[0]) - mean[SLOW]), float(np.log(between_s[1]) - mean[SLOW]))
    offsets = np.linspace(*ends, NODES)
    gain = spread[OTHERS, SLOW] / spread[SLOW, SLOW]
    conditional = spread[np.ix_(OTHERS, OTHERS)] - np.outer(gain, spread[SLOW, OTHERS])
    means = mean[OTHERS][None, :] + offsets[:, None] * gain[None, :]
    return SlowGrid(np.exp(mean[SLOW] + offsets), -0.5 * (offsets / sd) ** 2, means, np.linalg.inv(conditional))
