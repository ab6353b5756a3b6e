"""How likely each promise is kept: the plan worked many times with minutes drawn from their spread.

Work follows the plan as a bench does: whoever is free takes the step that the plan has first among those that can go
on now; nobody idles because the step that was to come next is not ready. Every question is asked with the same random
numbers, so two plans differ by what is planned, not by chance.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Callable, Mapping
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from flueproof.promise.schedule.model import Job, Placed, Plan, PlanError, Situation, Step
from flueproof.promise.schedule.placing.dispatching import dispatch

DRAWS = 80
"""Draws: enough for a probability within 0.06 or so, and a second or so for sixty jobs."""

SHARED = 0.3
"""Share of the variance of a step's logarithm that its whole job has in common (common practice, no source)."""

TAILS, SCALE, FURTHEST = 4, 0.91, 6.0
"""Degrees of freedom of the Student distribution that is drawn from, its scale that keeps the quartiles those of the
spread, and how far out a draw may be: a step now and then goes wrong, which no median shows (common practice, no
source)."""

Spread = Callable[[Job, Step], float]
Times = NDArray[np.float64]


def chances(plan: Plan, spread: Spread | float = 0.3, draws: int = DRAWS, seed: int = 1) -> Mapping[str, float]:
    """Return for each promised job the probability that its promise is kept (0 to 1).

    `spread`: standard deviation of the logarithm of the hands-on minutes, one for all or by job and step (from
    `learning.py`). Waiting minutes are taken as they are planned, and nothing new comes. Half a draw on either side
    keeps 0 and 1 apart from certainty.
    """
    ends = outcomes(plan, spread, draws, seed)
    kept = {}
    for job in plan.situation.jobs:
        if job.promised is not None:
            kept[job.name] = float((np.count_nonzero(ends[job.name] <= job.promised) + 0.5) / (draws + 1))
    return kept


def outcomes(plan: Plan, spread: Spread | float = 0.3, draws: int = DRAWS, seed: int = 1) -> Mapping[str, Times]:
    """Return the end of every job in each draw [min], infinite where the hours end before it, shape (draws,) each."""
    turns = {(each.job, each.step): each.start for each in plan.placed}
    spread_of = spread if callable(spread) else _same(spread)
    minutes = {
        (job.name, which): drawn_minutes(job, which, spread_of, draws, seed)
        for job in plan.situation.jobs
        for which in range(job.finished, len(job.steps))
    }
    ends = {job.name: np.full(draws, math.inf) for job in plan.situation.jobs}
    for draw in range(draws):
        drawn = _drawn(plan.situation, minutes, draw)
        try:
            worked = dispatch(drawn, sorted(drawn.jobs, key=lambda job: plan.ends[job.name]), turns)
        except PlanError:
            continue
        for name, end in worked.ends.items():
            ends[name][draw] = end
    return ends


def _same(spread: float) -> Spread:
    return lambda _job, _step: spread


def drawn_minutes(job: Job, which: int, spread: Spread, draws: int, seed: int) -> Times:
    """Return drawn hands-on minutes of a step, shape (draws,); the planned ones are their median."""
    step = job.steps[which]
    if not step.hands_on:
        return np.zeros(draws)
    own = _student(seed, f"{job.name}/{step.name}/{which}", draws)
    shared = _student(seed, job.name, draws)
    off = math.sqrt(1 - SHARED) * own + math.sqrt(SHARED) * shared
    return step.hands_on * np.exp(np.clip(spread(job, step) * off, -1.5, 1.5))


def _student(seed: int, name: str, draws: int) -> Times:
    digest = hashlib.blake2b(name.encode(), digest_size=8).digest()
    drawn = np.random.default_rng([seed, int.from_bytes(digest, "big")]).standard_t(TAILS, draws)
    return np.clip(SCALE * drawn, -FURTHEST, FURTHEST)


def _drawn(situation: Situation, minutes: Mapping[tuple[str, int], Times], draw: int) -> Situation:
    """Return the situation with the minutes of one draw; running work lasts at least until now."""
    jobs = []
    for job in situation.jobs:
        steps = list(job.steps)
        for which in range(job.finished, len(steps)):
            if steps[which].hands_on:
                steps[which] = replace(steps[which], hands_on=max(1, round(float(minutes[job.name, which][draw]))))
        jobs.append(replace(job, steps=tuple(steps)))
    running = tuple(_running(each, minutes, draw) for each in situation.running)
    return replace(situation, jobs=tuple(jobs), running=running)


def _running(each: Placed, minutes: Mapping[tuple[str, int], Times], draw: int) -> Placed:
    drawn = minutes.get((each.job, each.step))
    if drawn is None or each.hands_end <= 0:
        return each
    hands_end = max(1, each.start + round(float(drawn[draw])))
    return replace(each, hands_end=hands_end, end=hands_end + each.end - each.hands_end)
