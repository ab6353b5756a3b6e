"""What was answered: a choice, a number with its uncertainty, or that nobody knows."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

from flueproof.faults.errors import EvidenceError
from flueproof.faults.knowledge.observation import Choices, Observation


@dataclass(frozen=True, slots=True)
class Number:
    """A measured number.

    value, u: with its standard uncertainty [unit of the observation]; at_least: it is this or more.
    """

    value: float
    u: float
    at_least: bool = False


Answer: TypeAlias = str | Number | None
"""A choice by name, a number, or None for "not known", which changes nothing."""
Answers: TypeAlias = Mapping[str, Answer]
"""Answers by the key of their observation."""


def refuse_misfit(observation: Observation, answer: str | Number) -> None:
    """Refuse an answer that the observation does not take.

    Raises: EvidenceError.
    """
    likelihood = observation.likelihood
    if isinstance(likelihood, Choices):
        if answer not in likelihood.answers:
            allowed = ", ".join(likelihood.answers)
            raise EvidenceError(f"{observation.key}: {answer!r} is no answer; answers are: {allowed}, or not known.")
        return
    if not isinstance(answer, Number):
        raise EvidenceError(
            f"{observation.key}: {answer!r} is no number; give a value in {likelihood.unit} with its u."
        )
    if not math.isfinite(answer.value) or not math.isfinite(answer.u) or answer.u < 0:
        raise EvidenceError(f"{observation.key}: {answer.value} with u {answer.u} is no measured number.")


def known(answers: Answers) -> dict[str, str | Number]:
    """Return the answers that say something, in an order of their own, so that the order of asking cannot matter."""
    return {key: answer for key, answer in sorted(answers.items()) if answer is not None}
