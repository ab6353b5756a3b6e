"""How likely one answer is under the usual state and under each cause, split into "the cause acts" and "it does not".

A cause either acts on an observation, then the answer comes from the cause; or it does not, then it comes from the
usual state. What is tabled under a cause is the mixture of both. The share that acts is the largest that leaves both
parts probabilities: 1 - min(tabled / usual). For a yes / no answer that a cause makes likelier, two causes together
then give exactly the noisy-or; where both act, one of them at random is seen.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flueproof.faults.inference.evidence import Number
from flueproof.faults.knowledge.observation import Choices, Numbers, Observation
from flueproof.faults.knowledge.spread import Spread

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Spoken:
    """One answer. usual: its likelihood where no cause acts; acts: share of cases in which each cause acts, shape
    (causes,); own: likelihood of the answer where that cause acts, shape (causes,) [-, or 1/unit for numbers].
    """

    usual: float
    acts: FloatArray
    own: FloatArray

    def over(self, first: NDArray[np.intp], second: NDArray[np.intp]) -> FloatArray:
        """Return the likelihood under hypotheses given by the places of their causes; the place after the last cause
        stands for "no cause". Shape of first.
        """
        acts, own = np.append(self.acts, 0.0), np.append(self.own, 0.0)
        a, b, p, q = acts[first], acts[second], own[first], own[second]
        only = a * (1.0 - b) * p + b * (1.0 - a) * q
        result: FloatArray = only + a * b * 0.5 * (p + q) + (1.0 - a) * (1.0 - b) * self.usual
        return result


def speaks(observation: Observation, answer: str | Number, causes: Sequence[str]) -> Spoken:
    """Return what an answer says of each cause, in the order of `causes`."""
    likelihood = observation.likelihood
    if isinstance(likelihood, Choices):
        return _chosen(likelihood, likelihood.answers.index(str(answer)), causes)
    assert isinstance(answer, Number)  # noqa: S101 -- refuse_misfit came before
    return _measured(likelihood, answer, causes)


def _chosen(likelihood: Choices, at: int, causes: Sequence[str]) -> Spoken:
    usual = likelihood.usual
    acts, own = np.zeros(len(causes)), np.zeros(len(causes))
    for place, cause in enumerate(causes):
        row = likelihood.under.get(cause)
        if row is None:
            continue
        rest = min(share / before for share, before in zip(row, usual, strict=True))
        acts[place] = 1.0 - rest
        if acts[place] > 0.0:
            own[place] = max(0.0, row[at] - rest * usual[at]) / acts[place]
    return Spoken(usual[at], acts, own)


def _measured(likelihood: Numbers, answer: Number, causes: Sequence[str]) -> Spoken:
    usual = number_likelihood(likelihood, likelihood.usual, answer)
    acts, own = np.zeros(len(causes)), np.zeros(len(causes))
    for place, cause in enumerate(causes):
        spread = likelihood.under.get(cause)
        if spread is not None:
            acts[place], own[place] = 1.0, number_likelihood(likelihood, spread, answer)
    return Spoken(usual, acts, own)


def number_likelihood(likelihood: Numbers, spread: Spread, answer: Number) -> float:
    """Return the density of a number on the scale of the spreads, or the probability of "at least" [-].

    A small share of all numbers are blunders from anywhere in the range: one number alone never settles everything.
    """
    value, low_high = likelihood.on_scale(answer.value), likelihood.ends()
    u = answer.u / max(answer.value, likelihood.low) if likelihood.log else answer.u
    low, high = low_high
    if answer.at_least:
        blunder = min(1.0, max(0.0, (high - value) / (high - low)))
        return (1.0 - likelihood.odd) * (1.0 - spread.below(value, u)) + likelihood.odd * max(blunder, 1e-3)
    return (1.0 - likelihood.odd) * spread.density(value, u) + likelihood.odd / (high - low)


def bins_of(likelihood: Numbers) -> list[tuple[float, float]]:
    """Return the bins into which a number not yet measured is cut: the usual state and two steps to either side."""
    low, high = likelihood.ends()
    middle, reach = likelihood.usual.middle, 3.0 * math.hypot(likelihood.usual.deviation, likelihood.typical_u)
    left, right = max(low, middle - reach), min(high, middle + reach)
    edges = sorted(
        {low, 0.5 * (low + left), left, right, right + (high - right) / 3, right + 2 * (high - right) / 3, high}
    )
    edges = [-math.inf, *edges[1:-1], math.inf]
    return list(itertools.pairwise(edges))


def bin_likelihood(likelihood: Numbers, spread: Spread, low: float, high: float) -> float:
    """Return the probability that a usual measurement falls into a bin [-]."""
    ends = likelihood.ends()
    inside = (min(high, ends[1]) - max(low, ends[0])) / (ends[1] - ends[0])
    below_high = 1.0 if math.isinf(high) else spread.below(high, likelihood.typical_u)
    below_low = 0.0 if math.isinf(low) else spread.below(low, likelihood.typical_u)
    return (1.0 - likelihood.odd) * max(0.0, below_high - below_low) + likelihood.odd * max(0.0, inside)
