"""What is likely after the answers: causes, pairs, and how well the answers fit each other."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from flueproof.faults.inference.evidence import Number
from flueproof.faults.inference.hypotheses import Hypotheses
from flueproof.faults.inference.speaking import FloatArray
from flueproof.faults.knowledge.knowledge import Knowledge


@dataclass(frozen=True, slots=True)
class Ranked:
    """One cause with the probability that it is there, alone or with another [-]."""

    cause: str
    probability: float


class Posterior:
    """Probabilities of all hypotheses given the answers; made by `Engine.posterior`."""

    def __init__(
        self,
        knowledge: Knowledge,
        hypotheses: Hypotheses,
        said: Mapping[str, str | Number],
        prior: FloatArray,
        logs: Mapping[str, FloatArray],
        weights: Mapping[str, float],
        log_joint: FloatArray,
    ) -> None:
        self.knowledge = knowledge
        self.hypotheses = hypotheses
        self.said = said
        self.prior = prior
        self.logs = logs
        self.weights = weights
        self.log_joint = log_joint
        top = float(np.max(log_joint))
        scaled = np.exp(log_joint - top)
        self.log_evidence = top + math.log(float(scaled.sum()))
        self.probability: FloatArray = scaled / scaled.sum()
        count = len(hypotheses.causes)
        at_first = np.bincount(hypotheses.first, self.probability, count + 1)
        at_second = np.bincount(hypotheses.second, self.probability, count + 1)
        self.marginal: FloatArray = np.asarray((at_first + at_second)[:count], dtype=np.float64)

    @property
    def nothing(self) -> float:
        """Return the probability that there is no cause at all [-]."""
        return float(self.probability[0])

    @property
    def nothing_wrong_with_the_analyzer(self) -> float:
        """Return the probability that no cause sits in the analyzer: use, air, settings of the job, our own gas [-]."""
        wrong = np.array([not self.knowledge.causes[key].nothing_wrong for key in self.hypotheses.causes] + [False])
        sick = wrong[self.hypotheses.first] | wrong[self.hypotheses.second]
        return float(self.probability[~sick].sum())

    def ranking(self, least: float = 0.0) -> list[Ranked]:
        """Return the causes, likeliest first; least: smallest probability to be named [-]."""
        order = sorted(range(len(self.marginal)), key=lambda at: (-self.marginal[at], self.hypotheses.causes[at]))
        causes = self.hypotheses.causes
        return [Ranked(causes[at], float(self.marginal[at])) for at in order if self.marginal[at] >= least]

    def of(self, cause: str) -> float:
        """Return the probability that a cause is there, alone or with another [-]."""
        return float(self.marginal[self.hypotheses.causes.index(cause)])

    def best(self, count: int = 1) -> list[tuple[tuple[str, ...], float]]:
        """Return the likeliest hypotheses as names of causes (none: nothing wrong) with their probability [-]."""
        order = np.argsort(-self.probability, kind="stable")[:count]
        return [(self.hypotheses.names(int(at)), float(self.probability[at])) for at in order]
