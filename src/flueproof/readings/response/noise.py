"""Covariance of noise, display step and clock on averaged looks, for a grid of noise models."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flueproof.readings.response.model import Blocks
from flueproof.readings.response.prior import CORRELATION_S, ResponsePrior

FloatArray = NDArray[np.float64]

# Noise levels tried, as multiples of the estimate from the trace itself (own choice).
LEVELS = (0.6, 0.85, 1.2, 1.7)


@dataclass(frozen=True, slots=True)
class NoiseGrid:
    """Noise models to be weighed against each other.

    sd: standard deviation of the noise [unit], shape (models,); correlation_s: its correlation time [s], shape
    (models,); log_weight: prior weight of each, shape (models,).
    """

    sd: FloatArray
    correlation_s: FloatArray
    log_weight: FloatArray


def correlation_left_by_rounding(sd: float | FloatArray, step: float) -> float | FloatArray:
    """Return which part of the rounding error repeats from look to look on a steady signal [-].

    exp(-4 pi^2 sd^2 / step^2): noise of half a step already spreads the rounding error evenly.
    sd: noise [unit]; step: display step [unit].
    Source: first harmonic of the sawtooth error under normal dither, textbook (Widrow and Kollar, from memory).
    """
    left: float | FloatArray = np.exp(-((2.0 * math.pi * sd / step) ** 2))
    return left


def rounding_covariance(path: FloatArray, sd: FloatArray, step: float, sizes: FloatArray) -> FloatArray:
    """Return the covariance of the rounding error of averaged looks.

    path: modelled readings per block [unit], shape (blocks,); sd: noise [unit], shape (models,); step: display step
    [unit]; sizes: looks per block [-]. The part that noise does not spread keeps the autocovariance of a sawtooth,
    1 - 6 x + 6 x^2 with x the fractional part of the move in steps; the rest is white.
    Returns: shape (models, blocks, blocks) [unit^2].
    Source: variance step^2/12: JCGM 100:2008, F.2.2.1; autocovariance of the sawtooth: own derivation.
    """
    variance = step * step / 12.0
    kept = np.asarray(correlation_left_by_rounding(sd, step))[:, None, None]
    move = np.abs(path[:, None] - path[None, :]) / step
    move -= np.floor(move)
    sawtooth = 1.0 - 6.0 * move + 6.0 * move * move
    return variance * (kept * sawtooth + (1.0 - kept) * np.diag(1.0 / sizes))


def noise_covariance(times_s: FloatArray, blocks: Blocks, grid: NoiseGrid) -> FloatArray:
    """Return the covariance of first-order autoregressive noise on averaged looks.

    times_s: [s], shape (looks,); grid: noise models.
    Returns: shape (models, blocks, blocks) [unit^2].
    Source: AR(1) sampled at any times, textbook; average of a correlated series: JCGM 100:2008, 4.2.7 (note).
    """
    apart = np.abs(times_s[:, None] - times_s[None, :])
    known, which = np.unique(grid.correlation_s, return_inverse=True)
    rows = blocks.average(np.exp(-apart[None] / known[:, None, None]))
    averaged = blocks.average(np.swapaxes(rows, 1, 2))
    covariance: FloatArray = averaged[which] * (grid.sd**2)[:, None, None]
    return covariance


def grid_for(estimate: float, scale: float, prior: ResponsePrior, *, few: bool) -> NoiseGrid:
    """Return the noise models to weigh for one trace.

    estimate: noise seen in the trace [unit], nan when it cannot be told; scale: the display step [unit] or what stands
    for it; prior: knowledge of the model; few: too few looks to tell noise from shape.
    Source: own choice of grid; log-normal prior of the noise from the model's earlier traces.
    """
    middle = prior.noise_steps * scale
    if few or not math.isfinite(estimate):
        levels = middle * np.exp(prior.noise_spread * np.array([-1.0, 0.0, 1.0]))
        times = np.array([CORRELATION_S[2]])
        shares = np.array([1.0])
    else:
        levels = max(estimate, 0.1 * scale) * np.array(LEVELS)
        times = np.array(CORRELATION_S)
        shares = np.array(prior.correlation_weights) / sum(prior.correlation_weights)
    sd = np.repeat(levels, len(times))
    correlation = np.tile(times, len(levels))
    off = np.log(sd / middle) / prior.noise_spread
    log_weight = -0.5 * off * off + np.log(np.maximum(np.tile(shares, len(levels)), 1e-3))
    return NoiseGrid(sd, correlation, log_weight)
