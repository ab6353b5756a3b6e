"""The plan at once: a handful of orders, each placed, the best of them kept; the rules of the trade as peers."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from flueproof.promise.schedule.measure import broken_promises, score
from flueproof.promise.schedule.model import Job, Plan, Situation
from flueproof.promise.schedule.placing import NEVER, place_in_order

Rule = Callable[[Job], tuple[float, ...]]


def earliest_due_date(job: Job) -> tuple[float, ...]:
    """First the job that is promised first."""
    return (_due(job), job.release)


def least_slack(job: Job) -> tuple[float, ...]:
    """First the job with the least time to spare between now, its minutes left, and its promise."""
    return (_due(job) - job.release - job.minutes, job.release)


def first_come(job: Job) -> tuple[float, ...]:
    """First the job that came first."""
    return (job.release, _due(job))


def shortest_first(job: Job) -> tuple[float, ...]:
    """First the job with the least work of hands, by its weight."""
    return (job.hands_on / job.weight, job.release)


RULES: tuple[Rule, ...] = (earliest_due_date, least_slack, shortest_first)


def rule_plan(situation: Situation, rule: Rule) -> Plan:
    """Return the plan of one rule: jobs placed in its order, later ones into gaps where they fit."""
    return place_in_order(situation, sorted(situation.jobs, key=lambda job: (*rule(job), job.name)))


def quick_plan(situation: Situation, tries: int = 3) -> Plan:
    """Return a good plan in milliseconds: the best of the rules, then with jobs that would be late moved about.

    Never worse than earliest due date or least slack. `tries`: how many further orders are tried, each costing as much
    as one rule. Raises PlanError where something can never be placed.
    """
    best = min((rule_plan(situation, rule) for rule in RULES), key=score)
    for _ in range(tries):
        if not score(best).broken:
            break
        found = place_in_order(situation, _relieved(best))
        if score(found) >= score(best):
            break
        best = found
    return best


def _relieved(plan: Plan) -> Iterable[Job]:
    """Return the jobs in the order of their ends, kept promises first: those that fail anyhow make way."""
    late = set(broken_promises(plan))
    jobs = plan.situation.jobs
    return sorted(jobs, key=lambda job: (job.name in late, plan.ends[job.name] if job.name in late else _due(job)))


def _due(job: Job) -> int:
    return NEVER if job.promised is None else job.promised
