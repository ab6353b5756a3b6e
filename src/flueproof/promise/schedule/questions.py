"""What is asked on the phone: can this be done by then, what if somebody is away, how many more can we take."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from flueproof.promise.schedule.measure import Score, broken_promises, score
from flueproof.promise.schedule.model import Job, Plan, PlanError, Window
from flueproof.promise.schedule.placing.ordering import extend, keep, replay, replays

Verdict = Literal["yes", "costs promises", "no"]
PLACES = 12
"""How many places in the order of the plan are tried for a new job."""


@dataclass(frozen=True, slots=True)
class Later:
    """A job that ends later than before: by how many minutes, and whether that breaks its promise."""

    job: str
    minutes: int
    breaks: bool


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer to "can this be done by then?".

    `verdict`: "yes" (no promise breaks), "costs promises" (only by breaking those named), "no" (not at all).
    `ends`: when it would be done in the plan of the answer. `earliest`: the first end that breaks no promise, in any
    plan that was tried; `soonest`: the first end at any price. `later`: what taking it costs the others.
    `plan`: the plan of the answer, to be taken only by whoever says yes to it.
    """

    verdict: Verdict
    ends: int
    earliest: int | None
    soonest: int
    later: tuple[Later, ...]
    plan: Plan

    @property
    def breaks(self) -> tuple[str, ...]:
        """The names of the jobs whose promise would break."""
        return tuple(each.job for each in self.later if each.breaks)


def can_be_done_by(plan: Plan, job: Job, moment: int) -> Answer:
    """Return whether a new job can be done by a minute, and what that costs the others.

    The job is tried at a dozen places in the order of the plan, the rest following in its own order. Raises PlanError
    where it can never be done, or where its name is in the plan already.
    """
    if job.name in plan.ends:
        raise PlanError(f"{job.name} is in the plan already.")
    asked = replace(job, promised=moment)
    tried = [_Try(plan, found, asked) for found in _with(plan, asked)]
    kept = [each for each in tried if not each.breaks]
    earliest = min((each.end for each in kept), default=None)
    soonest = min(each.end for each in tried)
    fits = [each for each in tried if each.end <= moment]
    chosen = min(fits or kept or tried, key=lambda each: (each.breaks, each.cost, each.end))
    verdict: Verdict = "no" if not fits else "costs promises" if chosen.breaks else "yes"
    return Answer(verdict, chosen.end, earliest, soonest, chosen.later, chosen.plan)


class _Try:
    def __init__(self, before: Plan, plan: Plan, job: Job) -> None:
        self.plan, self.end = plan, plan.ends[job.name]
        self.later = later_than(before, plan)
        self.breaks = sum(each.breaks for each in self.later)
        self.cost = sum(each.minutes for each in self.later)


def _with(plan: Plan, job: Job) -> list[Plan]:
    """Return the plans in which the job has its turn at one place or another; in the first nobody moves."""
    situation = replace(plan.situation, jobs=(*plan.situation.jobs, job))
    starts = sorted({each.start for each in plan.placed})
    turns = sorted({starts[len(starts) * which // PLACES] for which in range(PLACES)}) if starts else []
    return [extend(situation, plan), *replays(situation, plan, [job], (turn - 1 for turn in turns))]


def later_than(before: Plan, after: Plan) -> tuple[Later, ...]:
    """Return the jobs that end later in the second plan, those whose promise breaks by it first."""
    found = []
    for job in before.situation.jobs:
        was, now = before.ends[job.name], after.ends.get(job.name, before.ends[job.name])
        if now > was:
            breaks = job.promised is not None and was <= job.promised < now
            found.append(Later(job.name, now - was, breaks))
    return tuple(sorted(found, key=lambda each: (not each.breaks, -each.minutes, each.job)))


@dataclass(frozen=True, slots=True)
class Without:
    """What it means that somebody is away: the plan without them, who ends later, which promises break."""

    plan: Plan
    later: tuple[Later, ...]
    before: Score
    after: Score

    @property
    def breaks(self) -> tuple[str, ...]:
        """The names of the jobs whose promise would break."""
        return tuple(each.job for each in self.later if each.breaks)


def without(plan: Plan, person: str, away: Iterable[Window]) -> Without:
    """Return what happens if one person is away at these times: only their work moves, or all in the plan's own order.

    The better of the two is taken. Raises PlanError where nobody is called so, or where something can then never be
    done.
    """
    situation = replace(plan.situation, shop=plan.situation.shop.without(person, away))
    found = min((keep(situation, plan), replay(situation, plan)), key=score)
    return Without(found, later_than(plan, found), score(plan), score(found))


@dataclass(frozen=True, slots=True)
class Room:
    """How many more jobs of a kind can be done in time without breaking a promise, and the plan that shows it."""

    count: int
    plan: Plan


def how_many(plan: Plan, kind: Job, until: int, at_most: int = 60) -> Room:
    """Return how many jobs like `kind` can still be taken and done by a minute without breaking a promise.

    They are put into the gaps of the plan one after the other, nobody else moves; what it says can be kept is kept by
    the plan it returns. It may be too careful: by moving others a further one may fit.
    """
    broken = len(broken_promises(plan))
    found, count = plan, 0
    while count < at_most:
        one = replace(kind, name=f"{kind.name} {count + 1}", promised=until)
        situation = replace(found.situation, jobs=(*found.situation.jobs, one))
        try:
            more = extend(situation, found)
        except PlanError:
            break
        if len(broken_promises(more)) > broken:
            break
        found, count = more, count + 1
    return Room(count, found)
