"""Whether the answers fit each other.

Answers that one story explains make each other likelier: together they are more probable than one by one. Answers
that contradict each other are less probable together. The measure is log2 of (product of the single probabilities /
probability of all together), in bits; above a few bits something does not fit.
Source of the measure: F. V. Jensen, An Introduction to Bayesian Networks (1996), conflict analysis; from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.special import logsumexp

from flueproof.faults.inference.posterior import Posterior

CONTRADICTORY_BITS = 2.0  # from here on the page says so; common practice, no source


@dataclass(frozen=True, slots=True)
class Misfit:
    """One answer against all others. bits: how much less likely the others make it than it was at first; above 0 it
    does not fit them.
    """

    observation: str
    bits: float


@dataclass(frozen=True, slots=True)
class Surprise:
    """How the answers fit. bits: of conflict, above 0 they disagree; contradictory: far enough to be said; misfits:
    each answer against the rest, worst first.
    """

    bits: float
    contradictory: bool
    misfits: tuple[Misfit, ...]


def surprise(posterior: Posterior) -> Surprise:
    """Return how well the answers fit each other; one answer or none is never contradictory."""
    keys = list(posterior.said)
    with np.errstate(divide="ignore"):
        log_prior = np.log(posterior.prior)
    weighted = {key: posterior.weights[key] * posterior.logs[key] for key in keys}
    alone = {key: float(logsumexp(log_prior + weighted[key])) for key in keys}
    together = posterior.log_evidence
    bits = (math.fsum(alone.values()) - together) / math.log(2.0)
    misfits = []
    for key in keys:
        without = float(logsumexp(posterior.log_joint - weighted[key]))
        misfits.append(Misfit(key, (alone[key] - (together - without)) / math.log(2.0)))
    misfits.sort(key=lambda one: (-one.bits, one.observation))
    worst = misfits[0].bits if misfits else 0.0
    contradictory = len(keys) > 1 and max(bits, worst) > CONTRADICTORY_BITS
    return Surprise(bits if len(keys) > 1 else 0.0, contradictory, tuple(misfits))
