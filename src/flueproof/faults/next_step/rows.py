"""Likelihood of every answer that could be given, under every hypothesis: made once, used for each next question."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from flueproof.faults.inference.engine import Engine
from flueproof.faults.inference.speaking import Spoken, bin_likelihood, bins_of, speaks
from flueproof.faults.knowledge.observation import Choices, Numbers, Observation

Float32Array = NDArray[np.float32]


class AnswerRows:
    """keys: observations that may be proposed; owner: place in `keys` of each row; rows: shape (rows, hypotheses)."""

    def __init__(self, engine: Engine) -> None:
        proposable = [one for one in engine.knowledge.observations.values() if one.may_be_proposed]
        self.keys = [one.key for one in proposable]
        owner: list[int] = []
        rows: list[NDArray[np.float64]] = []
        for place, one in enumerate(proposable):
            for spoken in _answers(one, engine.hypotheses.causes):
                owner.append(place)
                rows.append(spoken.over(engine.hypotheses.first, engine.hypotheses.second))
        self.owner = np.array(owner, dtype=np.intp)
        self.rows: Float32Array = np.array(rows, dtype=np.float32).reshape(len(rows), len(engine.hypotheses))


def _answers(observation: Observation, causes: tuple[str, ...]) -> list[Spoken]:
    likelihood = observation.likelihood
    if isinstance(likelihood, Choices):
        return [speaks(observation, answer, causes) for answer in likelihood.answers]
    return [_in_bin(likelihood, low, high, causes) for low, high in bins_of(likelihood)]


def _in_bin(likelihood: Numbers, low: float, high: float, causes: tuple[str, ...]) -> Spoken:
    acts, own = np.zeros(len(causes)), np.zeros(len(causes))
    for place, cause in enumerate(causes):
        spread = likelihood.under.get(cause)
        if spread is not None:
            acts[place], own[place] = 1.0, bin_likelihood(likelihood, spread, low, high)
    return Spoken(bin_likelihood(likelihood, likelihood.usual, low, high), acts, own)
