"""The tables made ready once; every question to them is then answered from the same arrays."""

from __future__ import annotations

import functools
from collections import Counter

import numpy as np

from flueproof.faults.errors import EvidenceError
from flueproof.faults.inference.evidence import Answers, Number, known, refuse_misfit
from flueproof.faults.inference.hypotheses import hypotheses_of, prior_of
from flueproof.faults.inference.posterior import Posterior
from flueproof.faults.inference.speaking import FloatArray, speaks
from flueproof.faults.knowledge.knowledge import Knowledge, Situation
from flueproof.faults.knowledge.reader import shipped_knowledge


class Engine:
    """Exact inference over nothing, single causes and pairs of one set of tables. Has no memory of answers."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge
        self.hypotheses = hypotheses_of(tuple(knowledge.causes))

    def posterior(self, answers: Answers, situation: Situation | None = None) -> Posterior:
        """Return the probability of every hypothesis given the answers; their order does not matter.

        answers: by key of the observation, None where not known; situation: of the analyzer.
        Raises: EvidenceError (unknown observation, an answer that it does not take).
        """
        said = known(answers)
        prior = prior_of(self.hypotheses, self.knowledge, situation or Situation())
        logs = {key: self.log_likelihood(key, answer) for key, answer in said.items()}
        weights = self.look_weights(tuple(said))
        with np.errstate(divide="ignore"):
            log_joint = np.log(prior)
        for key in said:
            log_joint = log_joint + weights[key] * logs[key]
        return Posterior(self.knowledge, self.hypotheses, said, prior, logs, weights, log_joint)

    def log_likelihood(self, key: str, answer: str | Number) -> FloatArray:
        """Return the logarithm of the likelihood of one answer under each hypothesis, shape (hypotheses,).

        Raises: EvidenceError.
        """
        observation = self.knowledge.observations.get(key)
        if observation is None:
            raise EvidenceError(f"{key!r} is no observation of the tables.")
        refuse_misfit(observation, answer)
        spoken = speaks(observation, answer, self.hypotheses.causes)
        logs: FloatArray = np.log(spoken.over(self.hypotheses.first, self.hypotheses.second))
        return logs

    def look_weights(self, keys: tuple[str, ...]) -> dict[str, float]:
        """Return how much each answer counts [-]: looks at the same thing repeat each other and share their weight."""
        looks = Counter(self.knowledge.observations[key].look for key in keys if key in self.knowledge.observations)
        overlap = self.knowledge.priors.overlap
        return {
            key: 1.0 / (1.0 + overlap * (looks[look] - 1)) if (look := self.knowledge.observations[key].look) else 1.0
            for key in keys
        }


@functools.cache
def shipped_engine() -> Engine:
    """Return the engine over the shipped tables, made once."""
    return Engine(shipped_knowledge())
