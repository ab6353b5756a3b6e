"""How likely each promise is to break, from the spread of the minutes that the shop has learned.

At once, by an estimate: the variances of the steps are added up along what must be done before, and the end is taken as
normal around the plan. With time, by working the plan many times over with drawn minutes (the core).
Estimate: as in PERT (Malcolm and others, Operations Research 7 (1959) 646, from memory), along people and stations too.
"""

from __future__ import annotations

import math
from collections import defaultdict
from typing import Final

from flueproof.promise.schedule.model import Job as PlanJob
from flueproof.promise.schedule.model import Placed, Plan, Step, Window
from flueproof.promise.schedule.risk import chances
from flueproof.shop.records.promises.plan.bench import Bench, due_of

_MOST_JOBS: Final = 120
"""More jobs than that are estimated only: working them over again takes minutes."""
_DRAWS: Final = 80
_JOBS: Final = 60
_LEAST: Final = 3.0
"""The least standard deviation of an end [min]: nobody plans to the minute."""


def risks_of(bench: Bench, plan: Plan, *, thorough: bool = False) -> dict[str, float]:
    """Return the probability (0 to 1) that each planned and promised job breaks its promise.

    One that is broken already breaks for certain, whatever day the plan works to.
    thorough: work the plan many times over (a second or two for sixty jobs) instead of estimating.
    """
    return _looked_at(bench, plan, thorough=thorough) | dict.fromkeys(_broken(bench, plan), 1.0)


def _broken(bench: Bench, plan: Plan) -> list[str]:
    dues = ((job.name, due_of(bench.states.get(job.name), bench.axis)) for job in plan.situation.jobs)
    return [name for name, due in dues if due is not None and due <= 0]


def _looked_at(bench: Bench, plan: Plan, *, thorough: bool) -> dict[str, float]:
    count = len(plan.situation.jobs)
    if thorough and 0 < count <= _MOST_JOBS:
        draws = max(20, min(_DRAWS, _DRAWS * _JOBS // count))
        kept = chances(plan, lambda job, step: _spread(bench, job, step), draws)
        return {name: round(1 - probability, 4) for name, probability in kept.items()}
    return {name: round(probability, 4) for name, probability in _estimated(bench, plan).items()}


def _late(over: float, deviation: float) -> float:
    """Return the probability of being late for an end planned `over` minutes after the promise (negative: before)."""
    return 0.5 * math.erfc(-over / (deviation * math.sqrt(2)))


def _estimated(bench: Bench, plan: Plan) -> dict[str, float]:
    """Return the probability that each promised job is late: a step begins as surely as what is before it ends.

    Before it are the steps of its job, the work of its person, and who stood at its station; the least sure counts.
    A job is late too where a step runs past its person's hours and their next ones are too late for the promise.
    """
    jobs = plan.situation.by_name
    windows = {each.name: each.windows for each in plan.situation.shop.technicians}
    so_far: defaultdict[tuple[str, str], float] = defaultdict(float)  # variance of the end of each one's work
    found = {job.name: 0.0 for job in jobs.values() if job.promised is not None}
    for each in plan.placed:  # in the order in which they begin
        job = jobs[each.job]
        step = job.steps[each.step]
        ways = [("job", each.job), ("person", each.technician), ("station", each.station)]
        ways = [way for way in ways if way[1]]
        variance = max(so_far[way] for way in ways) + (step.hands_on * _spread(bench, job, step)) ** 2
        so_far |= dict.fromkeys(ways, variance)
        if job.promised is not None:
            over = _over(each, plan.ends[job.name], job.promised, windows.get(each.technician, ()))
            found[job.name] = max(found[job.name], _late(over, max(_LEAST, math.sqrt(variance))))
    return found


def _over(each: Placed, ends: int, promised: int, windows: tuple[Window, ...]) -> int:
    """Return by how many minutes a step is past the last moment that keeps the promise (negative: before it)."""
    over = ends - promised
    for which, (begin, end) in enumerate(windows):
        if begin <= each.start < end:
            again = windows[which + 1][0] if which + 1 < len(windows) else math.inf
            if again + ends - each.start > promised:
                over = max(over, each.hands_end - end)
    return over


def _spread(bench: Bench, job: PlanJob, step: Step) -> float:
    row = bench.jobs.get(job.name)
    model, service = (row.analyzer.model, row.service) if row is not None else ("", "verify-adjust")
    return bench.learned.spread(model, service, step.name)
