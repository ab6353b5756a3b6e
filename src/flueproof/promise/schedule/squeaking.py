"""Better orders by trial: what came late is moved forward, what can be late no more is moved back, again and again.

The idea is squeaky-wheel optimization. Source: Joslin and Clements, Journal of Artificial Intelligence Research 10
(1999) 353 (from memory).
"""

from __future__ import annotations

import random
import time

from flueproof.promise.schedule.measure import lateness, score
from flueproof.promise.schedule.model import Job, Plan, PlanError, Situation
from flueproof.promise.schedule.placing import NEVER, place_in_order, replay


def squeak(situation: Situation, best: Plan, until: float, seed: int = 1, tries: int = 10_000) -> Plan:
    """Return the best plan found by moving late jobs forward, until this moment of the monotonic clock."""
    rng = random.Random(seed)  # noqa: S311 -- a search, not a secret
    weight = {job.name: job.weight for job in situation.jobs}
    urgency = {job.name: float(_due(job)) for job in situation.jobs}
    span = max(60.0, max(best.ends.values(), default=0) / 8)
    current = best
    for _ in range(tries):
        if time.monotonic() >= until or not score(best).broken:
            break
        late = {job.name: lateness(job, current.ends[job.name]) for job in situation.jobs}
        for name, over in late.items():
            if over:
                urgency[name] -= (over * 0.5 + span * rng.random()) * weight[name] ** 0.5
            elif rng.random() < 0.1:
                urgency[name] += span * 0.3 * rng.random()
        try:
            current = place_in_order(situation, sorted(situation.jobs, key=lambda job: (urgency[job.name], job.name)))
        except PlanError:
            continue
        if score(current) < score(best):
            best = current
    return best


def drawn(situation: Situation, plan: Plan) -> Plan:
    """Return the plan made again in its own order, every step as early as it goes, where that is better."""
    try:
        again = replay(situation, plan)
    except PlanError:
        return plan
    return again if score(again) < score(plan) else plan


def _due(job: Job) -> int:
    return NEVER if job.promised is None else job.promised
