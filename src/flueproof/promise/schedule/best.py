"""The plan a constraint solver finds in the seconds it is given, from the quick plan on."""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from flueproof.promise.schedule.constraint_model import ConstraintModel
from flueproof.promise.schedule.handing_out import hand_out
from flueproof.promise.schedule.measure import Score, score
from flueproof.promise.schedule.model import Placed, Plan, PlanError, Situation, plan_of
from flueproof.promise.schedule.placing import kept_for, place_in_order, rest_end, stays
from flueproof.promise.schedule.quick import quick_plan
from flueproof.promise.schedule.squeaking import squeak

WORKERS = 2
"""Threads of the solver: as many as the smallest shop server has processors."""

AIMS = ("broken", "lateness", "waiting")


def best_plan(situation: Situation, seconds: float = 5.0, start: Plan | None = None, seed: int = 1) -> Plan:
    """Return the best plan found in about this many seconds: broken promises first, then lateness, then waiting.

    `found` is "proved best" only where the solver proved all three. `bound` holds what no plan can beat: of broken
    promises over all plans, of lateness over those with as few broken as this one, and so on.
    Raises PlanError where no plan exists at all within the hours handed over.
    """
    until = time.monotonic() + seconds
    best = start or quick_plan(situation)
    best = squeak(situation, best, min(until, time.monotonic() + seconds / 4), seed)
    if not situation.jobs:
        return replace(best, found="proved best", bound=(0, 0, 0))
    solving = _Solving(situation, best, seed)
    bounds = []
    proved = True
    for which, aim in enumerate(AIMS):
        left = until - time.monotonic()
        share = left / (len(AIMS) - which)
        if aim != "waiting" and score(solving.best)[which] == 0:
            bound, done = 0, True
        else:
            bound, done = solving.lower(aim, max(0.05, share))
        proved = proved and done
        bounds.append(bound)
        solving.hold(aim)
    found = solving.best
    return replace(found, found="proved best" if proved else "best found", bound=(bounds[0], bounds[1], bounds[2]))


class _Solving:
    """One model, lowered aim by aim; keeps the best plan that was really handed out."""

    def __init__(self, situation: Situation, best: Plan, seed: int) -> None:
        self.built = ConstraintModel(situation, enough(situation, best))
        self.situation, self.best, self.seed = situation, best, seed

    def lower(self, aim: str, seconds: float) -> tuple[int, bool]:
        """Make one aim as small as it gets in the time; return its bound and whether the best plan reaches it."""
        of, model = self.built.of, self.built.model
        weights = {job.name: job.weight for job in self.situation.jobs}
        terms = {"broken": of.broken, "lateness": of.late, "waiting": of.job_end}[aim]
        base = sum(job.weight * job.release for job in self.situation.jobs) if aim == "waiting" else 0
        self.built.hint(self.best.placed)
        model.minimize(sum(weights[name] * term for name, term in terms.items()) - base)
        solver = self.built.cp.CpSolver()
        solver.parameters.max_time_in_seconds = seconds
        solver.parameters.num_workers = WORKERS
        solver.parameters.random_seed = self.seed
        solver.parameters.cp_model_probing_level = 0  # probing takes seconds here and finds nothing
        status = solver.solve(model)
        if status == self.built.cp.INFEASIBLE:
            raise PlanError("No plan fits into the hours handed over: hand over more days, or more people.")
        which = AIMS.index(aim)
        if status in (self.built.cp.OPTIMAL, self.built.cp.FEASIBLE):
            self._consider(handed_out(self.built, solver.value))
        bound = max(0, round(solver.best_objective_bound)) if status != self.built.cp.UNKNOWN else 0
        return bound, score(self.best)[which] <= bound

    def _consider(self, plan: Plan) -> None:
        """Keep the plan of the solver, or that plan with every step drawn to the front, where it is better."""
        order = sorted(self.situation.jobs, key=lambda job: plan.ends[job.name])
        for each in (plan, _drawn(self.situation, order)):
            if each is not None and score(each) < score(self.best):
                self.best = each

    def hold(self, aim: str) -> None:
        """Let no later aim undo this one."""
        of, model = self.built.of, self.built.model
        weights = {job.name: job.weight for job in self.situation.jobs}
        reached: Score = score(self.best)
        if aim == "broken":
            model.add(sum(weights[name] * term for name, term in of.broken.items()) <= reached.broken)
        elif aim == "lateness":
            model.add(sum(weights[name] * term for name, term in of.late.items()) <= reached.lateness)


def enough(situation: Situation, best: Plan) -> int:
    """Return until when a model must look: past every promise, and then once more as long as a whole plan takes.

    Whatever is not kept in time can be done after the last promise in the order of the plan that is there.
    """
    length = max(best.ends.values())
    last = max((job.promised for job in situation.jobs if job.promised is not None), default=0)
    waits = max((step.not_before for job in situation.jobs for step in job.steps), default=0)
    return min(max(length, last, waits) + length, situation.shop.horizon) + 1


def _drawn(situation: Situation, order: list[Any]) -> Plan | None:
    try:
        return place_in_order(situation, order)
    except PlanError:
        return None


def handed_out(built: ConstraintModel, value: Callable[[Any], int]) -> Plan:
    """Return the plan of a solved model, every interval handed to a person and a station by name."""
    situation = built.situation
    people = _people(built, value)
    places = _places(built, value)
    placed = list(situation.running)
    for job in situation.jobs:
        station = ""
        for stay in stays(job, _first_open(built, job.name)):
            for which in stay:
                key = (job.name, which)
                begin = value(built.of.start[key])
                hands_end = begin + job.steps[which].hands_on
                end = rest_end(job.steps[which], hands_end, situation.shop.open)
                station = places.get((job.name, stay[0]), "")
                placed.append(Placed(job.name, which, begin, hands_end, end, people.get(key, ""), station))
    return plan_of(situation, placed)


def _first_open(built: ConstraintModel, job: str) -> int:
    which = [step for name, step in built.of.start if name == job]
    return min(which) if which else len(built.situation.by_name[job].steps)


def _people(built: ConstraintModel, value: Callable[[Any], int]) -> Mapping[tuple[str, int], str]:
    spans: defaultdict[Any, list[tuple[int, int, tuple[str, int]]]] = defaultdict(list)
    for key, ways in built.of.person.items():
        alike = next(each for each, chosen in ways if value(chosen))
        spans[alike].append((value(built.of.start[key]), value(built.of.hands_end[key]), key))
    free: defaultdict[str, int] = defaultdict(lambda: -(10**9))
    for each in built.situation.running:
        free[each.technician] = max(free[each.technician], each.hands_end)
    found: dict[tuple[str, int], str] = {}
    for alike, mine in spans.items():
        found |= hand_out(mine, built.people[alike], free)
    return found


def _places(built: ConstraintModel, value: Callable[[Any], int]) -> Mapping[tuple[str, int], str]:
    spans: defaultdict[Any, list[tuple[int, int, tuple[str, int]]]] = defaultdict(list)
    jobs, found = built.situation.by_name, {}
    running = {each.job: each for each in built.situation.running}
    free: defaultdict[str, int] = defaultdict(lambda: -(10**9))
    for each in built.situation.running:
        step = jobs[each.job].steps[each.step]
        free[each.station] = max(free[each.station], each.end if step.keeps_station else each.hands_end)
    for (name, first), ways in built.of.place.items():
        job = jobs[name]
        stay = next(each for each in stays(job, _first_open(built, name)) if each[0] == first)
        last = (name, stay[-1])
        end = value(built.of.end[last] if job.steps[stay[-1]].keeps_station else built.of.hands_end[last])
        kept = kept_for(job, running.get(name), first)
        if kept is not None:
            free[kept.station] = max(free[kept.station], end)
            found[name, first] = kept.station
            continue
        alike = next(each for each, chosen in ways if value(chosen))
        spans[alike].append((value(built.of.start[name, first]), end, (name, first)))
    for alike, mine in spans.items():
        found |= hand_out(mine, built.stations[alike], free)
    return found
