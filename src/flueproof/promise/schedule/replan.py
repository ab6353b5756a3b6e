"""A new plan when something has changed, that leaves the order of today alone unless it pays to change it."""

from __future__ import annotations

from dataclasses import dataclass

from flueproof.promise.schedule.best import best_plan
from flueproof.promise.schedule.measure import score
from flueproof.promise.schedule.model import Placed, Plan, PlanError, Situation
from flueproof.promise.schedule.placing.ordering import keep

COST = 15
"""What it costs to move one step of today: minutes of lateness, or of waiting, that it must save (our choice)."""

SAME_TIME = 30
"""A step that begins within this of what was said is where it was [min]."""


@dataclass(frozen=True, slots=True)
class Replan:
    """The plan to work by, whether it is today's order still, and the steps of today that moved in it.

    `other`: the plan that was not taken: today's order kept, or the better one that did not pay.
    """

    plan: Plan
    kept: bool
    moved: tuple[Placed, ...]
    other: Plan


def replan(
    situation: Situation, today: Plan, until: int, seconds: float = 2.0, cost: int = COST, seed: int = 1
) -> Replan:
    """Return the plan for what is true now. `today`: the plan worked by, its minutes on the axis of this situation.

    Steps of `today` that are done are left out, new jobs are put behind. Up to the minute `until` (closing time today)
    a step that moves costs `cost` minutes; a new plan is taken if it breaks fewer promises, or else saves more
    lateness, or at the same lateness more waiting, than its moves cost.

    Raises PlanError where something can never be done.
    """
    found = best_plan(situation, seconds, seed=seed)
    try:
        same = keep(situation, today)
    except PlanError:
        return Replan(found, kept=False, moved=(), other=found)
    moved = moved_steps(same, found, until)
    if _pays(same, found, cost * len(moved)):
        return Replan(found, kept=False, moved=moved, other=same)
    return Replan(same, kept=True, moved=(), other=found)


def _pays(same: Plan, found: Plan, cost: int) -> bool:
    old, new = score(same), score(found)
    if new.broken != old.broken:
        return new.broken < old.broken
    if new.lateness != old.lateness:
        return new.lateness + cost < old.lateness
    return new.waiting + cost < old.waiting


def moved_steps(before: Plan, after: Plan, until: int) -> tuple[Placed, ...]:
    """Return the steps that begin before `until` in one plan and by another person or at another time in the other."""
    found = {(each.job, each.step): each for each in after.placed}
    moved = []
    for each in before.placed:
        now = found.get((each.job, each.step))
        if each.start >= until or now is None:
            continue
        if now.technician != each.technician or abs(now.start - each.start) > SAME_TIME:
            moved.append(now)
    return tuple(moved)
