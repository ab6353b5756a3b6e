"""What is wrong with the tables though every number in them can be read."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from flueproof.faults.knowledge.knowledge import Knowledge
from flueproof.faults.knowledge.observation import Choices, Observation
from flueproof.faults.knowledge.spread import Spread

APART = 0.15  # two causes are apart when some answer's distribution differs by this [total variation]; habit, no source
GRID = 40


@dataclass(frozen=True, slots=True)
class Finding:
    """One flaw. kind: not-separated, unseen-cause, says-nothing, out-of-range, no-reason, phrase-twice."""

    kind: str
    keys: tuple[str, ...]
    text: str


def check_knowledge(knowledge: Knowledge) -> list[Finding]:
    """Return the flaws of the tables, none when all is well."""
    return [
        *_out_of_range(knowledge),
        *_unseen_causes(knowledge),
        *_says_nothing(knowledge),
        *_no_reason(knowledge),
        *_phrase_twice(knowledge),
        *_not_separated(knowledge),
    ]


def _out_of_range(knowledge: Knowledge) -> Iterator[Finding]:
    for cause in knowledge.causes.values():
        if not cause.weight >= 0 or not math.isfinite(cause.weight):
            yield Finding("out-of-range", (cause.key,), f"{cause.key}: weight {cause.weight} is no count.")
    for one in knowledge.observations.values():
        if not isinstance(one.likelihood, Choices):
            continue
        for name, row in (("usual", one.likelihood.usual), *one.likelihood.under.items()):
            inside = all(0.0 < share < 1.0 for share in row)
            if not inside or abs(sum(row) - 1.0) > 1e-6 or len(row) != len(one.likelihood.answers):
                text = f"{one.key}, {name}: {row} are no probabilities of {', '.join(one.likelihood.answers)}."
                yield Finding("out-of-range", (one.key, name), text)


def _unseen_causes(knowledge: Knowledge) -> Iterator[Finding]:
    named = {key for one in knowledge.observations.values() for key in one.likelihood.under}
    for key in knowledge.causes:
        if key not in named:
            yield Finding("unseen-cause", (key,), f"{key}: no observation speaks for or against it.")


def _says_nothing(knowledge: Knowledge) -> Iterator[Finding]:
    for one in knowledge.observations.values():
        rows = [distribution_of(one, key) for key in one.likelihood.under]
        usual = distribution_of(one, None)
        if all(_apart(row, usual) < 0.02 for row in rows):
            yield Finding("says-nothing", (one.key,), f"{one.key}: its answers are as likely under every cause.")


def _no_reason(knowledge: Knowledge) -> Iterator[Finding]:
    for one in knowledge.observations.values():
        if one.kind in {"question", "field-check"} and not (one.why and (one.how or one.kind == "question")):
            yield Finding("no-reason", (one.key,), f"{one.key}: says not why it is asked, or not how it is done.")


def _phrase_twice(knowledge: Knowledge) -> Iterator[Finding]:
    seen: dict[str, str] = {}
    for one in knowledge.observations.values():
        for phrase in one.phrases:
            plain = " ".join(phrase.lower().split())
            if plain in seen and seen[plain] != one.key:
                text = f"the phrase {phrase!r} stands under {seen[plain]} and {one.key}."
                yield Finding("phrase-twice", (seen[plain], one.key), text)
            seen[plain] = one.key


def _not_separated(knowledge: Knowledge) -> Iterator[Finding]:
    observations = list(knowledge.observations.values())
    for first, second in itertools.combinations(knowledge.causes, 2):
        both = [o for o in observations if first in o.likelihood.under or second in o.likelihood.under]
        if all(_apart(distribution_of(one, first), distribution_of(one, second)) < APART for one in both):
            text = f"{first} and {second}: nothing that can be asked or measured tells one from the other."
            yield Finding("not-separated", (first, second), text)


def distribution_of(observation: Observation, cause: str | None) -> tuple[float, ...]:
    """Return the probabilities of the answers under one cause, or where none speaks; numbers cut into a fine grid."""
    likelihood = observation.likelihood
    if isinstance(likelihood, Choices):
        return likelihood.under.get(cause or "", likelihood.usual)
    low, high = likelihood.ends()
    spread: Spread = likelihood.under.get(cause or "", likelihood.usual)
    marks = np.linspace(low, high, GRID + 1)
    share = [0.0, *(spread.below(float(mark), likelihood.typical_u) for mark in marks[1:-1]), 1.0]
    return tuple(np.diff(share).tolist())


def _apart(first: tuple[float, ...], second: tuple[float, ...]) -> float:
    """Return the total variation between two distributions [-]."""
    return 0.5 * math.fsum(abs(a - b) for a, b in zip(first, second, strict=True))
