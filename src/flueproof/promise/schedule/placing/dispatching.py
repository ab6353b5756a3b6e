"""Plans made from the clock: whoever is free takes the first job of an order that can go on now.

Where `placing.py` gives the first job of an order everything it wants, which leaves holes of minutes between the steps
of others, this leaves none: nobody waits while there is something to do.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

from flueproof.promise.schedule.model import Job, Plan, Situation
from flueproof.promise.schedule.placing.board import Board
from flueproof.promise.schedule.placing.ordering import standing_first
from flueproof.promise.schedule.placing.timeline import NEVER


def dispatch(situation: Situation, order: Iterable[Job], turns: Mapping[tuple[str, int], int] | None = None) -> Plan:
    """Return the plan in which at every minute the first job of the order that can go on does.

    `turns`: where given, the job whose next step has the smallest turn goes first, the order breaks ties. Steps that
    share a stay at one station are placed together. Raises PlanError where a step finds no time.
    """
    board = Board(situation)
    waiting = standing_first(board, order)
    for job in waiting:
        if board.goes_on(job):
            board.place_next(job)
    waiting = [job for job in waiting if board.open_stay(job) is not None]
    # The first minute at which the next stay of each job might begin; it only ever grows, for nothing becomes free.
    begins = {job.name: board.ready[job.name] for job in waiting}
    now = min(begins.values(), default=0)
    changed = True
    while waiting:
        free: dict[str, int] = {}
        if turns is not None and changed:
            waiting.sort(key=lambda job: turns.get((job.name, _next(board, job)), NEVER))
        finished = changed = False
        for job in waiting:
            name = job.name
            if begins[name] > now:
                continue
            skill = _skill(board, job)
            if skill and skill in board.able:
                if skill not in free:
                    free[skill] = board.someone_free(skill, now)
                if free[skill] > now:
                    begins[name] = free[skill]
                    continue
            start = board.begin_at(job, now)
            if start > now:
                begins[name] = start
                continue
            end = board.place_from(job, now)
            if end < 0:
                begins[name] = -end
                continue
            free.clear()
            changed = True
            begins[name] = NEVER if board.open_stay(job) is None else board.ready[name]
            finished = finished or begins[name] == NEVER
        if finished:
            waiting = [job for job in waiting if begins[job.name] < NEVER]
        now = max(now + 1, min((begins[job.name] for job in waiting), default=NEVER))
    return board.plan()


def _next(board: Board, job: Job) -> int:
    stay = board.open_stay(job)
    return stay[0] if stay else -1


def _skill(board: Board, job: Job) -> str:
    stay = board.open_stay(job)
    step = job.steps[stay[0]] if stay else None
    return step.skill if step is not None and step.hands_on else ""


def by_urgency(situation: Situation, patience: float) -> Sequence[Job]:
    """Return the jobs by apparent tardiness cost: little work first, the more so the less time there is to spare.

    `patience`: how many mean jobs ahead a promise is looked at; small = as by due date, great = as shortest first.
    Source: Vepsalainen and Morton, Management Science 33 (1987) 1035, the rule (from memory); as an order: ours.
    """
    jobs = sorted(situation.jobs, key=lambda job: job.name)
    if not jobs:
        return jobs
    speed = _speed(situation)
    mean = sum(job.hands_on for job in jobs) / len(jobs) / speed
    reach = max(1.0, patience * mean)
    order, now = [], 0.0
    while jobs:
        come = [job for job in jobs if job.release <= now + mean] or [min(jobs, key=lambda job: job.release)]
        best = max(come, key=lambda job: _urgency(job, now, reach))
        jobs.remove(best)
        order.append(best)
        now = max(now, best.release) + best.hands_on / speed
    return order


def _urgency(job: Job, now: float, reach: float) -> float:
    worth = job.weight / max(1, job.hands_on)
    if job.promised is None:
        return worth * math.exp(-20)
    return worth * math.exp(-min(20.0, max(0.0, job.promised - job.minutes - now) / reach))


def _speed(situation: Situation) -> float:
    """Return how many people are there on the mean minute."""
    there = sum(end - start for each in situation.shop.technicians for start, end in each.windows)
    return max(0.1, there / max(1, situation.shop.horizon))
