"""How a channel follows a step of gas in time, and the noise on it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    import numpy.typing as npt

    from flueproof.simulate.truth import StepResponse

    FloatArray = npt.NDArray[np.float64]


def step_share(times_s: FloatArray, response: StepResponse, lag_s: float = 0.0) -> FloatArray:
    """Return which part of a step has arrived.

    1 - a exp(-t/tau1) - (1 - a) exp(-t/tau2) after the dead time; with a lag T in front, each exponential becomes the
    step response of two stages in series, 1 - (T exp(-t/T) - tau exp(-t/tau)) / (T - tau).
    times_s: since the gas was put on [s], shape (n,); lag_s: time constant of a clogged filter [s].
    Returns: shape (n,) [-], 0 before the dead time.
    Source: response model of the team's reference sheet, section 6 (own); series of stages: linear systems, textbook.
    """
    since = np.maximum(times_s - response.dead_s, 0.0)
    missing = (1.0 - response.tail_share) * _missing(since, response.tau_s, lag_s)
    return 1.0 - missing - response.tail_share * _missing(since, response.tail_tau_s, lag_s)


def _missing(since: FloatArray, tau_s: float, lag_s: float) -> FloatArray:
    if lag_s <= 0:
        return np.exp(-since / tau_s)
    if abs(lag_s - tau_s) < 1e-3 * tau_s:
        lag_s = tau_s * 1.001
    stages: FloatArray = (lag_s * np.exp(-since / lag_s) - tau_s * np.exp(-since / tau_s)) / (lag_s - tau_s)
    return stages


def correlated_noise(
    times_s: FloatArray, sd: float, correlation_s: float, generator: np.random.Generator
) -> FloatArray:
    """Return first-order autoregressive noise at any times.

    times_s: ascending [s], shape (n,); sd: standard deviation [any unit]; correlation_s: time over which the
    correlation falls to 1/e [s]. Two looks dt apart have correlation exp(-dt / correlation_s).
    Returns: shape (n,) [unit of sd].
    Source: AR(1) process sampled exactly, textbook (Ornstein and Uhlenbeck).
    """
    draws = generator.standard_normal(times_s.size)
    if sd <= 0 or times_s.size == 0:
        return np.zeros(times_s.size)
    value = float(draws[0])
    values = [value]
    for gap_s, draw in zip(np.diff(times_s).tolist(), draws[1:].tolist(), strict=True):
        value = noise_after(value, gap_s, correlation_s, draw)
        values.append(value)
    return sd * np.asarray(values)


def noise_after(value: float, gap_s: float, correlation_s: float, draw: float) -> float:
    """Return the noise of unit standard deviation a moment after it was `value` [-].

    gap_s, correlation_s [s]; draw: from the standard normal.
    Source: as `correlated_noise`.
    """
    kept = math.exp(-gap_s / correlation_s)
    return kept * value + math.sqrt(1.0 - kept * kept) * draw
