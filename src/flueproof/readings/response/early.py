"""Where a reading may go when next to nothing of its shape has been seen: the prior alone says."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from flueproof.readings.response.prior import ResponsePrior

FloatArray = NDArray[np.float64]

DRAWS = 400
LEAST_SHARE = 0.02  # of the step that must have arrived to say anything (own choice)


def arrived_shares(prior: ResponsePrior, since_s: float, switch_sd_s: float = 0.0) -> FloatArray:
    """Return which share of a step has arrived, for shapes drawn from the prior.

    prior: of the model; since_s: since gas on [s]; switch_sd_s: uncertainty of that moment [s].
    Returns: ascending, shape (draws,) [-], at least 2 %.
    Source: response model of the team's reference sheet, section 6 (own); plain draws from a fixed seed.
    """
    generator = np.random.default_rng(7)
    spread = np.array(prior.covariance)
    spread[3, 3] += switch_sd_s**2
    shapes = generator.multivariate_normal(np.asarray(prior.mean), spread, DRAWS)
    since = np.maximum(since_s - np.maximum(shapes[:, 3], 0.0), 0.0)
    tail = np.clip(shapes[:, 1], 0.0, 0.9)
    left = (1.0 - tail) * np.exp(-since / np.exp(shapes[:, 0])) + tail * np.exp(-since / np.exp(shapes[:, 2]))
    return np.sort(np.maximum(1.0 - left, LEAST_SHARE))


def early_settled(shown: float, start: float, shares: FloatArray, level: float) -> tuple[float, float, float, float]:
    """Return value, standard uncertainty and interval of the settled value from one look [unit of the channel].

    shown: the last look [unit]; start: reading before the step [unit]; shares: arrived, shape (draws,) [-]; level: of
    the interval [-]. The value is the median: the mean would be ruled by shapes that have hardly begun to move.
    Source: own rule.
    """
    ends = np.sort(start + (shown - start) / shares)
    low, value, high = np.quantile(ends, [0.5 - 0.5 * level, 0.5, 0.5 + 0.5 * level])
    return float(value), float(max(np.std(ends), (high - value) / 2.0, (value - low) / 2.0)), float(low), float(high)
