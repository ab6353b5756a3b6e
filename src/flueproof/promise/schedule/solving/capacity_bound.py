"""What no plan can beat: bounds from the capacity of people and stations.

The best of three is taken: what a job would need with everything for itself; the flow below, which takes all people or
the stations of one kind and nothing else; and prices (`prices.py`), which take everything at once.

The flow, for lateness: the hands of every step are cut into minutes and given to any times at which enough people are
there, as a flow of least cost; a minute of a step with `p` minutes that is worked at `t` after its own due time `d`
costs (t - d + p/2)/p, so that an unbroken step costs just its lateness. A step's due time is its job's, less all that
must follow it; steps of a job share its lateness by their minutes. A plan is one such flow, so no plan costs less.
Source: Bülbül, Kaminsky and Yano, Journal of Scheduling 10 (2007) 271, cost coefficients of the preemptive relaxation
(from memory); several people, waiting between steps and the choice of shares are ours.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from flueproof.promise.schedule.measure import Score, score
from flueproof.promise.schedule.model import Job, Shop, Situation, Step, Window
from flueproof.promise.schedule.placing.timeline import complement, merged
from flueproof.promise.schedule.quick import quick_plan
from flueproof.promise.schedule.solving.prices import AFTER, best_bound, broken_cost, late_by, waited

BUCKET, PIECES = 10, 600
"""Minutes of the axis that are taken as one for up to so many pieces, and more minutes in proportion for more of them;
the bound is lower by up to that for each job."""

SCALE = 1000
SECONDS = 2.0

ROUNDS, FEWEST_ROUNDS, WORK = 100, 12, 54_000
"""Price lists that are tried, at the least, and steps times price lists where there is much to do."""


class Piece(NamedTuple):
    """The hands (or the stay) of one step: minutes, from when, and how long its job lasts after it at the least."""

    job: Job
    minutes: int
    ready: int
    tail: int


class Resource(NamedTuple):
    """Something of which there is not enough: when how many of it are there, and who wants it."""

    windows: tuple[tuple[Window, ...], ...]
    pieces: tuple[Piece, ...]


def capacity_bound(situation: Situation) -> Score:
    """Return what no plan can beat in broken promises, in lateness, and in waiting, each taken for itself.

    Raises PlanError where something can never be planned at all.
    """
    broken, late, waits = _by_prices(situation)
    late = max(late, alone(situation, _promise))
    waits = max(waits, alone(situation, _release))
    for each in resources(situation):
        late = max(late, _flow(each, _promise, situation.shop))
        waits = max(waits, _flow(each, _release, situation.shop))
        broken = max(broken, fewest_broken(each))
    return Score(max(broken, _broken_alone(situation)), late, waits)


def _by_prices(situation: Situation) -> Score:
    """Return what all people and stations at once allow (`prices.py`)."""
    plan = quick_plan(situation)
    steps = sum(len(job.steps) - job.finished for job in situation.jobs)
    length = min(max(1, *plan.ends.values(), 0) + AFTER, situation.shop.horizon)
    rounds = max(FEWEST_ROUNDS, min(ROUNDS, WORK // max(1, steps)))
    reached = score(plan)
    broken, late = (
        best_bound(situation, cost, length, rounds) if reached.broken else 0 for cost in (broken_cost, late_by())
    )
    return Score(broken, late, best_bound(situation, waited, length, rounds))


def _promise(job: Job) -> int | None:
    return job.promised


def _release(job: Job) -> int | None:
    return job.release


def alone(situation: Situation, due: Callable[[Job], int | None]) -> int:
    """Return the lateness of jobs that have everything for themselves."""
    total = 0
    for job in situation.jobs:
        limit = due(job)
        if limit is not None:
            total += job.weight * max(0, _first_end(situation, job) - limit)
    return total


def _broken_alone(situation: Situation) -> int:
    return sum(
        job.weight for job in situation.jobs if job.promised is not None and _first_end(situation, job) > job.promised
    )


def _begin(situation: Situation, job: Job) -> tuple[int, int]:
    """Return the first step that is left and from when it can begin."""
    running = [each for each in situation.running if each.job == job.name]
    if not running:
        return job.finished, job.release
    last = max(running, key=lambda each: each.step)
    return last.step + 1, max(job.release, last.end)


def _first_end(situation: Situation, job: Job) -> int:
    first, at = _begin(situation, job)
    for step in job.steps[first:]:
        at = max(at, step.not_before) + step.hands_on + (0 if step.overnight else step.waiting)
    return at


def resources(situation: Situation) -> list[Resource]:
    """Return all people together, the people of each skill that not everybody has, and the stations of each kind."""
    shop = situation.shop
    everybody = tuple(each.windows for each in shop.technicians)
    found = [Resource(everybody, _pieces(situation, lambda step: step.hands_on))]
    for skill in sorted({step.skill for job in situation.jobs for step in job.steps if step.hands_on}):
        able = tuple(each.windows for each in shop.technicians if skill in each.skills)
        if len(able) < len(everybody):
            found.append(Resource(able, _pieces(situation, _hands_of(skill))))
    for kind in sorted({step.station for job in situation.jobs for step in job.steps} - {""}):
        places = tuple(_when(shop, each.out) for each in shop.stations if kind in each.kinds)
        found.append(Resource(places, _pieces(situation, _stay_at(kind))))
    return [each for each in found if each.pieces]


def _hands_of(skill: str) -> Callable[[Step], int]:
    return lambda step: step.hands_on if step.skill == skill else 0


def _stay_at(kind: str) -> Callable[[Step], int]:
    def minutes(step: Step) -> int:
        waits = step.waiting if step.keeps_station and not step.overnight else 0
        return step.hands_on + waits if step.station == kind else 0

    return minutes


def _when(shop: Shop, out: Iterable[Window]) -> tuple[Window, ...]:
    taken = merged([*complement(shop.open), *out])
    return tuple((before[1], after[0]) for before, after in pairwise(taken))


def _pieces(situation: Situation, minutes: Callable[[Step], int]) -> tuple[Piece, ...]:
    found = []
    for job in situation.jobs:
        first, at = _begin(situation, job)
        rest = sum(step.hands_on + (0 if step.overnight else step.waiting) for step in job.steps[first:])
        for step in job.steps[first:]:
            own = step.hands_on + (0 if step.overnight else step.waiting)
            at = max(at, step.not_before)
            length = minutes(step)
            if length:
                found.append(Piece(job, length, at, rest - length))
            at, rest = at + own, rest - own
    return tuple(found)


def _flow(resource: Resource, due: Callable[[Job], int | None], shop: Shop) -> int:
    """Return the least cost of giving every minute a time."""
    from ortools.graph.python import min_cost_flow  # type: ignore[import-untyped]  # noqa: PLC0415 -- slow to load

    bucket = BUCKET * math.ceil(len(resource.pieces) / PIECES)
    edges = np.arange(0, shop.horizon + bucket, bucket)
    room = np.zeros(len(edges) - 1, dtype=np.int64)
    for windows in resource.windows:
        room += np.diff(_there(windows, edges))
    needed = sum(piece.minutes for piece in resource.pieces)
    last = _enough(np.cumsum(room), needed + max(piece.ready for piece in resource.pieces), len(room))
    starts, room = edges[:last], room[:last]
    total: dict[str, int] = {}
    for piece in resource.pieces:
        total[piece.job.name] = total.get(piece.job.name, 0) + piece.minutes
    flow = min_cost_flow.SimpleMinCostFlow()
    count = len(resource.pieces)
    nodes = count + np.arange(last)
    for which, piece in enumerate(resource.pieces):
        limit = due(piece.job)
        use = (starts + bucket > piece.ready) & (room > 0)
        cost = np.zeros(int(use.sum()), dtype=np.int64)
        if limit is not None:
            over = starts[use] - (limit - piece.tail)
            share = SCALE * piece.job.weight / total[piece.job.name]
            cost = np.where(over >= 0, np.floor(share * (over + piece.minutes / 2)), 0).astype(np.int64)
        flow.add_arcs_with_capacity_and_unit_cost(
            np.full(len(cost), which), nodes[use], np.full(len(cost), piece.minutes), cost
        )
    flow.add_arcs_with_capacity_and_unit_cost(nodes, np.full(last, count + last), room, np.zeros(last, dtype=np.int64))
    flow.set_nodes_supplies(np.arange(count), np.array([piece.minutes for piece in resource.pieces]))
    flow.set_node_supply(count + last, -needed)
    if flow.solve() != flow.OPTIMAL:
        return 0
    return int(flow.optimal_cost() // SCALE)


def _there(windows: tuple[Window, ...], edges: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return for each edge how many minutes of the windows lie before it."""
    return sum(
        (np.clip(edges - start, 0, end - start) for start, end in windows), start=np.zeros(len(edges), dtype=np.int64)
    )


def _enough(rooms: NDArray[np.int64], needed: int, most: int) -> int:
    """Return how many buckets any best flow can need: room for all of it after the last piece is ready."""
    return min(most, int(np.searchsorted(rooms, 2 * needed)) + 1)


def fewest_broken(resource: Resource) -> int:
    """Return how many promises (by weight) must break because the work of the others would not fit before their dates.

    In any span of time the jobs that come after its beginning and are promised before its end must fit into it.
    """
    from ortools.sat.python import cp_model  # noqa: PLC0415 -- takes long to load

    promised = [piece for piece in resource.pieces if piece.job.promised is not None]
    model = cp_model.CpModel()
    kept = {piece.job.name: model.new_bool_var(piece.job.name) for piece in promised}
    weight = {piece.job.name: piece.job.weight for piece in promised}
    ends = np.array([int(piece.job.promised or 0) - piece.tail for piece in promised])
    begins = np.array([piece.ready for piece in promised])
    minutes = np.array([piece.minutes for piece in promised])
    names = [piece.job.name for piece in promised]
    for begin in _some(begins):
        for end in _some(ends):
            inside = (begins >= begin) & (ends <= end)
            room = sum(_between(windows, int(begin), int(end)) for windows in resource.windows)
            if minutes[inside].sum() > room:
                model.add(sum(int(minutes[i]) * kept[names[i]] for i in np.flatnonzero(inside)) <= room)
    model.maximize(sum(weight[name] * one for name, one in kept.items()))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = SECONDS
    solver.parameters.num_workers = 1
    if solver.solve(model) not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        return 0
    return max(0, sum(weight.values()) - int(solver.best_objective_bound + 1e-6))


def _between(windows: tuple[Window, ...], begin: int, end: int) -> int:
    return sum(max(0, min(end, closes) - max(begin, opens)) for opens, closes in windows)


def _some(values: NDArray[np.int64], most: int = 40) -> NDArray[np.int64]:
    """Return the values without repeats, thinned where there are many: fewer spans only weaken the bound."""
    found = np.unique(values)
    return found if len(found) <= most else np.unique(np.quantile(found, np.linspace(0, 1, most)).astype(np.int64))
