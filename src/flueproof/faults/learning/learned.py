"""Tables as the shop's own confirmed jobs change them.

The shipped figures count as so many imagined cases (their strength); confirmed jobs are added to them.
Weights of causes: Dirichlet over nothing and all causes. Answers: one Dirichlet per observation and cause, Beta for
yes / no. Numbers: the mean and spread of normal distributions. Jobs with two causes teach how often each comes and how
often two come together, but not what each shows, for nobody can say which of the two was seen.
"""

from __future__ import annotations

import dataclasses
import math
from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from flueproof.faults.inference.evidence import Number
from flueproof.faults.knowledge.cause import Cause
from flueproof.faults.knowledge.knowledge import Knowledge
from flueproof.faults.knowledge.observation import Choices, Numbers, Observation
from flueproof.faults.knowledge.spread import Spread
from flueproof.faults.learning.ledger import ClosedJob, Ledger

NOTHING = "nothing"
LEAST = 1e-4  # no answer ever becomes impossible [-]


@dataclass(frozen=True, slots=True)
class Strength:
    """How many cases the shipped figures are worth: weights of all causes together, one distribution of answers [-].

    Common practice, no source.
    """

    weights: float = 200.0
    answers: float = 20.0


@dataclass(frozen=True, slots=True)
class Change:
    """One figure that jobs changed. key: to refuse it by (`weight:…`, `answers:…:…`, `pairs`); before, after: weight
    [of a thousand], probabilities of the answers [-] or mean and spread; cases: jobs behind it; refused: not in force.
    """

    key: str
    before: tuple[float, ...]
    after: tuple[float, ...]
    cases: int
    refused: bool


@dataclass(frozen=True, slots=True)
class Learned:
    """The tables in force, and every change against the shipped ones, refused ones included."""

    knowledge: Knowledge
    changes: tuple[Change, ...]


DEFAULT_STRENGTH = Strength()


def learned(shipped: Knowledge, ledger: Ledger, strength: Strength = DEFAULT_STRENGTH) -> Learned:
    """Return the tables after all jobs of a ledger; causes and answers that no table knows any more are left aside.

    Recomputed from the jobs every time: taking one back leaves no trace of it.
    """
    jobs = [job for job in ledger.jobs if all(cause in shipped.causes for cause in job.causes)]
    changes: list[Change] = []
    causes = _weights(shipped, jobs, ledger.refused, strength, changes)
    pair_share = _pair_share(shipped, jobs, ledger.refused, strength, changes)
    observations = {
        key: _observation(one, jobs, ledger.refused, strength, changes) for key, one in shipped.observations.items()
    }
    none = _none_weight(shipped, jobs, ledger.refused, strength, changes)
    priors = dataclasses.replace(shipped.priors, pair_share=pair_share, none=none)
    return Learned(Knowledge(causes, observations, priors), tuple(changes))


def _counts(jobs: Iterable[ClosedJob]) -> Counter[str]:
    return Counter(cause for job in jobs for cause in (job.causes or (NOTHING,)))


def _weight(shipped: Knowledge, jobs: list[ClosedJob], strength: Strength, key: str, before: float) -> float:
    """Return the weight after counting, on the shipped scale: all weights together stay what they were."""
    counts = _counts(jobs)
    whole = shipped.priors.none + math.fsum(one.weight for one in shipped.causes.values())
    cases = strength.weights * before / whole + counts[key]
    return cases * whole / (strength.weights + counts.total())


def _weights(
    shipped: Knowledge, jobs: list[ClosedJob], refused: frozenset[str], strength: Strength, changes: list[Change]
) -> dict[str, Cause]:
    counts = _counts(jobs)
    causes = {}
    for key, cause in shipped.causes.items():
        after = _weight(shipped, jobs, strength, key, cause.weight) if jobs else cause.weight
        causes[key] = cause
        if after == cause.weight:
            continue
        change = Change(f"weight:{key}", (cause.weight,), (after,), counts[key], f"weight:{key}" in refused)
        changes.append(change)
        if not change.refused:
            causes[key] = dataclasses.replace(cause, weight=after)
    return causes


def _none_weight(
    shipped: Knowledge, jobs: list[ClosedJob], refused: frozenset[str], strength: Strength, changes: list[Change]
) -> float:
    before = shipped.priors.none
    after = _weight(shipped, jobs, strength, NOTHING, before) if jobs else before
    if after == before:
        return before
    key = f"weight:{NOTHING}"
    changes.append(Change(key, (before,), (after,), _counts(jobs)[NOTHING], key in refused))
    return before if key in refused else after


def _pair_share(
    shipped: Knowledge, jobs: list[ClosedJob], refused: frozenset[str], strength: Strength, changes: list[Change]
) -> float:
    before = shipped.priors.pair_share
    singles = sum(len(job.causes) == 1 for job in jobs)
    pairs = sum(len(job.causes) == 2 for job in jobs)
    if not singles + pairs:
        return before
    share = before / (1.0 + before)
    share = (strength.weights * share + pairs) / (strength.weights + singles + pairs)
    after = min(1.0, share / (1.0 - share))
    changes.append(Change("pairs", (before,), (after,), singles + pairs, "pairs" in refused))
    return before if "pairs" in refused else after


def _observation(
    observation: Observation,
    jobs: list[ClosedJob],
    refused: frozenset[str],
    strength: Strength,
    changes: list[Change],
) -> Observation:
    seen: dict[str, list[str | Number]] = defaultdict(list)
    for job in jobs:
        answer = _answer(observation, job)
        if len(job.causes) <= 1 and answer is not None:
            seen[job.causes[0] if job.causes else ""].append(answer)
    likelihood = observation.likelihood
    table: dict[str, Any] = {**likelihood.under, "": likelihood.usual}
    moved = False
    for cause, answers in sorted(seen.items()):
        key = f"answers:{observation.key}:{cause or NOTHING}"
        before = table.get(cause, likelihood.usual)
        after = _after(likelihood, before, answers, strength.answers)
        changes.append(Change(key, _shown(before), _shown(after), len(answers), key in refused))
        if key not in refused:
            table[cause], moved = after, True
    if not moved:
        return observation
    moved_rows: dict[str, Any] = {"usual": table.pop(""), "under": table}
    return dataclasses.replace(observation, likelihood=dataclasses.replace(likelihood, **moved_rows))


def _answer(observation: Observation, job: ClosedJob) -> str | Number | None:
    """Return the answer of a job; a complaint that was not among those made is a complaint not made."""
    answer = job.answers.get(observation.key)
    if answer is None and observation.kind == "complaint" and job.complained:
        return "no"
    return answer if answer is not None and _fits(observation, answer) else None


def _fits(observation: Observation, answer: str | Number) -> bool:
    if isinstance(observation.likelihood, Choices):
        return answer in observation.likelihood.answers
    return isinstance(answer, Number) and not answer.at_least


def _after(
    likelihood: Choices | Numbers, before: tuple[float, ...] | Spread, answers: list[str | Number], cases: float
) -> tuple[float, ...] | Spread:
    if isinstance(likelihood, Choices) and not isinstance(before, Spread):
        counts = Counter(answers)
        raw = [
            max(LEAST, (cases * share + counts[name]) / (cases + len(answers)))
            for name, share in zip(likelihood.answers, before, strict=True)
        ]
        return tuple(share / math.fsum(raw) for share in raw)
    assert isinstance(likelihood, Numbers)  # noqa: S101 -- a number's table has spreads
    assert isinstance(before, Spread)  # noqa: S101
    return _moved(likelihood, before, [one for one in answers if isinstance(one, Number)], cases)


def _moved(likelihood: Numbers, before: Spread, numbers: list[Number], cases: float) -> Spread:
    """Return a normal with mean and variance pooled from imagined and real cases; a measurement's u is taken off."""
    values = [likelihood.on_scale(one.value) for one in numbers]
    scales = [one.value if likelihood.log else 1.0 for one in numbers]
    total = cases + len(values)
    mean = (cases * before.middle + math.fsum(values)) / total
    squares = cases * (before.deviation**2 + (before.middle - mean) ** 2)
    for value, one, scale in zip(values, numbers, scales, strict=True):
        squares += max(0.0, (value - mean) ** 2 - (one.u / max(scale, likelihood.low if likelihood.log else 1.0)) ** 2)
    return Spread("normal", mean, max(math.sqrt(squares / total), 1e-6))


def _shown(one: tuple[float, ...] | Spread) -> tuple[float, ...]:
    return (one.middle, one.deviation) if isinstance(one, Spread) else one
