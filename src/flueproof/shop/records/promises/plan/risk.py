"""How likely each promise is to break, from the spread of the minutes that the shop has learned.

At once, by an estimate: what is done before a job's end spreads by the minutes of everybody's work until then, and the
end is taken as normal around the plan. With time, by working the plan many times over with drawn minutes (the core).
Estimate: our own simplification of the sum of independent steps; no source.
"""

from __future__ import annotations

import math
from collections import defaultdict
from typing import Final

from flueproof.promise.schedule.model import Job as PlanJob
from flueproof.promise.schedule.model import Plan, Step
from flueproof.promise.schedule.risk import chances
from flueproof.shop.records.promises.plan.bench import Bench

_MOST_JOBS: Final = 120
"""More jobs than that are estimated only: working them over again takes minutes."""
_DRAWS: Final = 80
_JOBS: Final = 60
_LEAST: Final = 3.0
"""The least standard deviation of an end [min]: nobody plans to the minute."""


def risks_of(bench: Bench, plan: Plan, *, thorough: bool = False) -> dict[str, float]:
    """Return the probability (0 to 1) that each planned and promised job breaks its promise.

    thorough: work the plan many times over (a second or two for sixty jobs) instead of estimating.
    """
    count = len(plan.situation.jobs)
    if thorough and 0 < count <= _MOST_JOBS:
        draws = max(20, min(_DRAWS, _DRAWS * _JOBS // count))
        kept = chances(plan, lambda job, step: _spread(bench, job, step), draws)
        return {name: round(1 - probability, 4) for name, probability in kept.items()}
    deviations = _deviations(bench, plan)
    return {
        job.name: round(_late(plan.ends[job.name] - job.promised, deviations[job.name]), 4)
        for job in plan.situation.jobs
        if job.promised is not None
    }


def _late(over: float, deviation: float) -> float:
    """Return the probability of being late for an end planned `over` minutes after the promise (negative: before)."""
    return 0.5 * math.erfc(-over / (deviation * math.sqrt(2)))


def _deviations(bench: Bench, plan: Plan) -> dict[str, float]:
    """Return the standard deviation [min] of each job's end: of its own steps, and of what its people did before it."""
    jobs = plan.situation.by_name
    spread: defaultdict[str, float] = defaultdict(float)  # variance of each person's work so far
    ends: dict[str, float] = {}
    for each in plan.placed:  # in the order in which they begin
        job = jobs[each.job]
        step = job.steps[each.step]
        if each.technician:
            spread[each.technician] += (step.hands_on * _spread(bench, job, step)) ** 2
        ends[each.job] = max(ends.get(each.job, 0.0), spread[each.technician])
    return {name: max(_LEAST, math.sqrt(ends.get(name, 0.0))) for name in jobs}


def _spread(bench: Bench, job: PlanJob, step: Step) -> float:
    row = bench.jobs.get(job.name)
    model, service = (row.analyzer.model, row.service) if row is not None else ("", "verify-adjust")
    return bench.learned.spread(model, service, step.name)
