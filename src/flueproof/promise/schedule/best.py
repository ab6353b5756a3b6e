"""The best plan found in the seconds given: many orders tried, then a constraint solver that may prove it."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import replace

from flueproof.promise.schedule.measure import Score, broken_promises, score
from flueproof.promise.schedule.model import Plan, PlanError, Situation
from flueproof.promise.schedule.placing.ordering import replay
from flueproof.promise.schedule.solving.constraint_model import ConstraintModel
from flueproof.promise.schedule.solving.handing_out import handed_out
from flueproof.promise.schedule.solving.rolling import rolling_plan
from flueproof.promise.schedule.solving.searching import A_LAST_FEW, rank, search, search_and_limit

WORKERS = 2
"""Threads of the solver: as many as the smallest shop server has processors."""

AIMS = ("broken", "lateness", "waiting")
MANY, FEW, FEW_ENOUGH = 120, 60, 150
"""More jobs than MANY are planned part by part; up to FEW steps the solver gets most of the time; beyond FEW_ENOUGH
steps it is only asked where no more than A_LAST_FEW promises are broken, for else it finds nothing (measured)."""


def best_plan(
    situation: Situation,
    seconds: float = 5.0,
    start: Plan | None = None,
    seed: int = 1,
    aims: Sequence[str] = AIMS,
) -> Plan:
    """Return the best plan found in about this many seconds: broken promises first, then lateness, then waiting.

    No plan is taken that brings more lateness than the better of the rules of the trade (`limit_of`): fewest broken
    promises alone would leave some boxes lying for good. `start`: a plan of the same situation that is known already.
    `aims`: the first of "broken", "lateness", "waiting" that matter; the fewer, the sooner it is done.
    `found` is "proved best" only where the solver proved all three aims; `bound` is what it proved of each: of broken
    promises over all such plans, of lateness over those with as few broken as this one, and so on.
    Raises PlanError where something can never be done within the hours handed over.
    """
    until = time.monotonic() + seconds
    if not situation.jobs:
        return replace(search(situation, until), found="proved best", bound=(0, 0, 0))
    if len(situation.jobs) > MANY:
        return replace(rolling_plan(situation, until, seed), found="best found")
    steps = sum(len(job.steps) - job.finished for job in situation.jobs)
    trying = min(0.3, seconds * 0.1) if steps <= FEW else seconds * 0.6
    best, limit = search_and_limit(
        situation,
        time.monotonic() + trying,
        seed,
        promises_only=len(aims) == 1,
        at_most=until if steps > FEW_ENOUGH else None,
    )
    if start is not None and rank(score(start), limit) < rank(score(best), limit):
        best = start
    if steps > FEW_ENOUGH and not 0 < len(broken_promises(best)) <= A_LAST_FEW:
        kept = not broken_promises(best)
        return replace(best, found="best found", bound=(0, 0, 0) if kept else None)
    return _solved(situation, best, limit, until, seed, aims)


def _solved(situation: Situation, best: Plan, limit: int, until: float, seed: int, aims: Sequence[str]) -> Plan:
    """Return the plan after the solver lowered one aim after the other, each with its share of the time."""
    solving = _Solving(situation, best, limit, seed)
    bounds, proved = [0, 0, 0], len(aims) == len(AIMS)
    for which, aim in enumerate(aims):
        share = (until - time.monotonic()) / (len(aims) - which)
        if aim != "waiting" and score(solving.best)[which] == 0:
            bound, done = 0, True
        elif share <= 0:
            bound, done = 0, False
        else:
            bound, done = solving.lower(aim, share)
        proved = proved and done
        bounds[which] = bound
        solving.hold(aim)
    return replace(
        solving.best, found="proved best" if proved else "best found", bound=(bounds[0], bounds[1], bounds[2])
    )


class _Solving:
    """One model, lowered aim by aim; keeps the best plan that was really handed out."""

    def __init__(self, situation: Situation, best: Plan, limit: int, seed: int) -> None:
        self.built = ConstraintModel(situation, enough(situation, best))
        self.situation, self.best, self.limit, self.seed = situation, best, limit, seed
        self.weights: Mapping[str, int] = {job.name: job.weight for job in situation.jobs}
        late = self.built.of.late
        if late and score(best).lateness <= limit:
            self.built.model.add(sum(self.weights[name] * term for name, term in late.items()) <= limit)

    def lower(self, aim: str, seconds: float) -> tuple[int, bool]:
        """Make one aim as small as it gets in the time; return its bound and whether the best plan reaches it."""
        of, model = self.built.of, self.built.model
        terms = {"broken": of.broken, "lateness": of.late, "waiting": of.job_end}[aim]
        base = sum(job.weight * job.release for job in self.situation.jobs) if aim == "waiting" else 0
        self.built.hint(self.best.placed)
        model.minimize(sum(self.weights[name] * term for name, term in terms.items()) - base)
        solver = self.built.cp.CpSolver()
        solver.parameters.max_time_in_seconds = seconds
        solver.parameters.num_workers = WORKERS
        solver.parameters.random_seed = self.seed
        solver.parameters.cp_model_probing_level = 0  # probing takes seconds here and finds nothing
        status = solver.solve(model)
        if status == self.built.cp.INFEASIBLE:
            raise PlanError("No plan fits into the hours handed over: hand over more days, or more people.")
        if status == self.built.cp.UNKNOWN:
            return 0, False
        self._consider(handed_out(self.built, solver.value))
        bound = max(0, round(solver.best_objective_bound))
        return bound, score(self.best)[AIMS.index(aim)] <= bound

    def _consider(self, plan: Plan) -> None:
        """Keep the plan of the solver, or the same made again with every step drawn to the front, where better."""
        for each in (plan, _drawn(self.situation, plan)):
            if each is not None and rank(score(each), self.limit) < rank(score(self.best), self.limit):
                self.best = each

    def hold(self, aim: str) -> None:
        """Let no later aim undo this one."""
        of, model = self.built.of, self.built.model
        reached: Score = score(self.best)
        if aim == "broken" and of.broken:
            model.add(sum(self.weights[name] * term for name, term in of.broken.items()) <= reached.broken)
        elif aim == "lateness" and of.late:
            model.add(sum(self.weights[name] * term for name, term in of.late.items()) <= reached.lateness)


def enough(situation: Situation, best: Plan) -> int:
    """Return until when a model must look: past every promise, and then once more as long as a whole plan takes.

    Whatever is not kept in time can be done after the last promise in the order of the plan that is there.
    """
    length = max(best.ends.values())
    last = max((job.promised for job in situation.jobs if job.promised is not None), default=0)
    waits = max((step.not_before for job in situation.jobs for step in job.steps), default=0)
    return min(max(length, last, waits) + length, situation.shop.horizon) + 1


def _drawn(situation: Situation, plan: Plan) -> Plan | None:
    try:
        return replay(situation, plan)
    except PlanError:
        return None
