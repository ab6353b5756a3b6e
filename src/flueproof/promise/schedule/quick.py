"""The plan at once: a handful of orders, each placed, the best of them kept; the rules of the trade as peers."""

from __future__ import annotations

from collections.abc import Callable

from flueproof.promise.schedule.measure import score
from flueproof.promise.schedule.model import Job, Plan, Situation
from flueproof.promise.schedule.placing.dispatching import by_urgency, dispatch
from flueproof.promise.schedule.placing.ordering import place_in_order
from flueproof.promise.schedule.placing.timeline import NEVER

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


PATIENCE = 10.0
"""How many mean jobs ahead a quick plan looks at promises: from there the fewest break (measured)."""

RULES: tuple[Rule, ...] = (earliest_due_date, least_slack, shortest_first)


def rule_plan(situation: Situation, rule: Rule) -> Plan:
    """Return the plan of one rule: jobs placed in its order, later ones into gaps where they fit."""
    return place_in_order(situation, sorted(situation.jobs, key=lambda job: (*rule(job), job.name)))


def quick_plan(situation: Situation) -> Plan:
    """Return a good plan in milliseconds: the best of due date, slack, and little work first from the clock.

    Never worse than earliest due date or least slack, placed in the same way. Raises PlanError where something can
    never be placed.
    """
    best = rule_plan(situation, earliest_due_date)
    if not score(best).broken:
        return best
    found = (rule_plan(situation, least_slack), dispatch(situation, by_urgency(situation, PATIENCE)))
    return min((best, *found), key=score)


def _due(job: Job) -> int:
    return NEVER if job.promised is None else job.promised
