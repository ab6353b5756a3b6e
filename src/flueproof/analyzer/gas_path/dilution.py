"""How much room air comes in between two feeds, as a one-sided interval near zero."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from flueproof.analyzer.gas_path.products import Products

COVERAGE_K = 1.959964  # normal, 95 % two-sided (JCGM 100:2008, Table G.1)
STRONGEST = 1e12  # a likelihood ratio beyond this says no more
USABLE = 0.2  # below this share of its gas a channel is too dead to witness a dilution; common practice, no source


@dataclass(frozen=True, slots=True)
class Dilution:
    """Share of room air in the sample [fraction of flow] with its 95 % interval cut at zero.

    agreement: chi-square of the channels' separate answers against the common one; channels: how many answered.
    """

    value: float
    u: float
    low: float
    high: float
    agreement: float = 0.0
    channels: int = 1


def interval_near_zero(value: float, u: float) -> tuple[float, float]:
    """Return the 95 % interval of a fraction that cannot be negative [fraction].

    The upper end starts from zero when the estimate is negative, so the interval never shrinks to nothing.
    Source: own choice; coverage is at least 95 % for every true value >= 0 (tested by simulation).
    """
    return max(0.0, value - COVERAGE_K * u), min(1.0, max(value, 0.0) + COVERAGE_K * u)


def between_feeds(products: Products, outer: str, inner: str) -> Dilution | None:
    """Return the dilution that enters between the feeds `outer` and `inner` [fraction of flow].

    Every channel that has a usable product at both feeds answers 1 - P(outer)/P(inner); the bottle's error cancels
    in the ratio through the covariance. The answers are joined by generalised least squares.
    Source: own derivation from 1 - f = P(outer)/P(inner).
    """
    positions: list[tuple[int, int]] = []
    for channel in dict.fromkeys(name for name, _ in products.names):
        if products.has(channel, outer) and products.has(channel, inner):
            first, second = products.names.index((channel, outer)), products.names.index((channel, inner))
            if products.values[second] > USABLE and products.values[first] > USABLE / 10:
                positions.append((first, second))
    if not positions:
        return None
    jacobian = np.zeros((len(positions), len(products.names)))
    answers = np.zeros(len(positions))
    for row, (first, second) in enumerate(positions):
        ratio = products.values[first] / products.values[second]
        answers[row] = 1.0 - ratio
        jacobian[row, first] = -1.0 / products.values[second]
        jacobian[row, second] = ratio / products.values[second]
    covariance = jacobian @ products.covariance @ jacobian.T
    weight = np.linalg.inv(covariance)
    total = float(weight.sum())
    value = float((weight @ answers).sum()) / total
    u = math.sqrt(1.0 / total)
    misfit = answers - value
    low, high = interval_near_zero(value, u)
    return Dilution(value, u, low, high, float(misfit @ weight @ misfit), len(positions))


def excess_air(products: Products, feed: str) -> Dilution | None:
    """Return 1 - P_O2 at `feed`: what a leak or an O2 zero error, or both, have done there [fraction].

    As an upper limit of the dilution it holds because the residual current of an O2 cell is not negative
    (from memory; flue-gas sheets of the trade agree).
    Source: own derivation, P_O2 = (1 - z/20.9)(1 - f).
    """
    if not products.has("o2", feed):
        return None
    value, u = 1.0 - products.value("o2", feed), products.u("o2", feed)
    low, high = interval_near_zero(value, u)
    return Dilution(value, u, low, high)


def ratio_above(value: float, u: float, limit: float) -> float:
    """Return the likelihood ratio "above `limit`" to "not above" for a normal estimate [-].

    Both hypotheses take their best value, so the ratio is exp(+-z^2/2) with z = (value - limit)/u.
    Source: generalised likelihood ratio, own choice of the two hypotheses.
    """
    z = (value - limit) / max(u, 1e-12)
    return math.exp(math.copysign(min(z * z / 2.0, math.log(STRONGEST)), z))
