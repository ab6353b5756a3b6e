"""Which answer moved which cause by how much.

The logarithm of the odds of one hypothesis against another is the sum of the prior's part and of one part for each
answer, whatever the order they came in.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from flueproof.faults.inference.evidence import Number
from flueproof.faults.inference.posterior import Posterior


@dataclass(frozen=True, slots=True)
class Part:
    """One answer's part. observation, answer; log_ratio: natural logarithm of its likelihood ratio for the cause and
    against the rival, weighted as it counted [-]; ratio: the same as a factor on the odds [-].
    """

    observation: str
    answer: str | Number
    log_ratio: float

    @property
    def ratio(self) -> float:
        """Return the factor on the odds [-]."""
        return math.exp(self.log_ratio)


@dataclass(frozen=True, slots=True)
class Explanation:
    """Why one hypothesis is likelier than another.

    causes, rival: the two, as names (none: nothing wrong); prior: logarithm of their odds before any answer; parts:
    the answers, strongest first; total: logarithm of their odds now, prior and parts added up [-].
    """

    causes: tuple[str, ...]
    rival: tuple[str, ...]
    prior: float
    parts: tuple[Part, ...]
    total: float


def explain(posterior: Posterior, cause: str, rival: str | None = None) -> Explanation:
    """Return why a single cause stands where it stands against its rival.

    rival: another cause; when not given, the likeliest hypothesis without the cause ("nothing" included).
    Raises: ValueError when a cause is not in the tables, or neither is possible for this analyzer.
    """
    causes = posterior.hypotheses.causes
    here = 1 + causes.index(cause)
    there = 1 + causes.index(rival) if rival is not None else _best_without(posterior, cause)
    if posterior.prior[here] == posterior.prior[there] == 0.0:
        raise ValueError(f"Neither {cause} nor {rival} is possible for this analyzer: nothing tells them apart.")
    with np.errstate(divide="ignore"):
        prior = float(np.log(posterior.prior[here]) - np.log(posterior.prior[there]))
    parts = [
        Part(key, answer, posterior.weights[key] * float(posterior.logs[key][here] - posterior.logs[key][there]))
        for key, answer in posterior.said.items()
    ]
    parts.sort(key=lambda part: (-abs(part.log_ratio), part.observation))
    total = float(posterior.log_joint[here] - posterior.log_joint[there])
    return Explanation((cause,), posterior.hypotheses.names(there), prior, tuple(parts), total)


def _best_without(posterior: Posterior, cause: str) -> int:
    """Return the place of the likeliest hypothesis that does not hold the cause."""
    without = np.where(posterior.hypotheses.with_cause(cause), -np.inf, posterior.log_joint)
    return int(np.argmax(without))
