"""All hypotheses: nothing at all, one cause, two causes; and what they weigh before anything was answered."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flueproof.faults.errors import EvidenceError
from flueproof.faults.inference.speaking import FloatArray
from flueproof.faults.knowledge.knowledge import Knowledge, Situation, weight_of


@dataclass(frozen=True, slots=True)
class Hypotheses:
    """First nothing, then the single causes, then the pairs.

    causes: keys in order; first, second: places of the causes of each hypothesis, shape (hypotheses,); the place
    after the last cause stands for "no cause".
    """

    causes: tuple[str, ...]
    first: NDArray[np.intp]
    second: NDArray[np.intp]

    def __len__(self) -> int:
        return len(self.first)

    def names(self, place: int) -> tuple[str, ...]:
        """Return the causes of one hypothesis, none to two."""
        both = (int(self.first[place]), int(self.second[place]))
        return tuple(self.causes[one] for one in both if one < len(self.causes))

    def with_cause(self, cause: str) -> NDArray[np.bool_]:
        """Tell for each hypothesis whether a cause is part of it, shape (hypotheses,)."""
        at = self.causes.index(cause)
        held: NDArray[np.bool_] = (self.first == at) | (self.second == at)
        return held


def hypotheses_of(causes: tuple[str, ...]) -> Hypotheses:
    """Return every hypothesis over these causes."""
    none = len(causes)
    pairs = list(itertools.combinations(range(none), 2))
    first = [none, *range(none), *(pair[0] for pair in pairs)]
    second = [none, *([none] * none), *(pair[1] for pair in pairs)]
    return Hypotheses(causes, np.array(first, dtype=np.intp), np.array(second, dtype=np.intp))


def prior_of(hypotheses: Hypotheses, knowledge: Knowledge, situation: Situation) -> FloatArray:
    """Return the probability of each hypothesis before any answer, shape (hypotheses,) [-].

    Singles weigh as their cause does in the situation; pairs as the product of their weights, scaled so that all pairs
    together are `pair_share` of all singles, times a factor for pairs that come together.
    Raises: EvidenceError when the situation leaves no cause and nothing possible.
    """
    count, priors = len(hypotheses.causes), knowledge.priors
    weights = np.array([weight_of(knowledge.causes[key], priors, situation) for key in hypotheses.causes])
    prior = np.zeros(len(hypotheses))
    prior[0] = priors.none_routine if situation.routine else priors.none
    prior[1 : 1 + count] = weights
    pairs = slice(1 + count, None)
    first, second = hypotheses.first[pairs], hypotheses.second[pairs]
    product = weights[first] * weights[second]
    total = float(product.sum())
    if total > 0.0:
        factors = np.ones(len(product))
        places = {key: place for place, key in enumerate(hypotheses.causes)}
        for (one, other), factor in priors.together.items():
            i, j = sorted((places[one], places[other]))
            factors[i * count - i * (i + 1) // 2 + j - i - 1] = factor
        prior[pairs] = product * factors * (priors.pair_share * float(weights.sum()) / total)
    whole = float(prior.sum())
    if not whole > 0.0:
        raise EvidenceError("No cause of the tables is possible for this analyzer: look at what it is said to have.")
    return prior / whole
