"""Plans of hundreds of jobs: those that end first are planned well, then the next into what they leave, and so on."""

from __future__ import annotations

import time
from collections.abc import Iterable
from dataclasses import replace

from flueproof.promise.schedule.measure import score
from flueproof.promise.schedule.model import Job, Placed, Plan, PlanError, Shop, Situation, Window, cut, plan_of
from flueproof.promise.schedule.placing.board import kept_for, stays
from flueproof.promise.schedule.placing.dispatching import dispatch
from flueproof.promise.schedule.solving.searching import rank, search, search_and_limit

PART = 60
"""Jobs that are planned together."""


def rolling_plan(situation: Situation, until: float, seed: int = 1) -> Plan:
    """Return the best plan found until this moment of the monotonic clock, part by part.

    Raises PlanError where something can never be done within the hours handed over.
    """
    now = time.monotonic()
    whole, limit = search_and_limit(situation, now + (until - now) / 4, seed)
    best, turn = whole, 0
    while time.monotonic() < until and turn < 2:
        begun = {each.job for each in situation.running}
        order = sorted(situation.jobs, key=lambda job: (job.name not in begun, best.ends[job.name], job.name))
        found = _part_by_part(situation, order, until, seed + turn)
        if found is None or rank(score(found), limit) >= rank(score(best), limit):
            break
        best, turn = found, turn + 1
    return best


def _part_by_part(situation: Situation, order: list[Job], until: float, seed: int) -> Plan | None:
    parts = [order[first : first + PART] for first in range(0, len(order), PART)]
    placed: list[Placed] = []
    shop, running = situation.shop, set(situation.running)
    for which in range(len(parts)):
        share = (until - time.monotonic()) / (len(parts) - which)
        # When the time is over, all that is left is placed at once.
        part = parts[which] if share > 0 else [job for each in parts[which:] for job in each]
        names = {job.name for job in part}
        mine = tuple(each for each in situation.running if each.job in names)
        others = [each for each in running if each.job not in names and which == 0]
        taken = occupied(situation, others)
        here = Situation(less(shop, *taken), tuple(part), mine)
        try:
            found = search(here, time.monotonic() + share, seed) if share > 0 else dispatch(here, part)
        except PlanError:
            return None
        placed += found.placed
        if share <= 0:
            break
        # What was planned is out of reach for the parts that follow; running work is known to the first part already.
        shop = less(less(shop, *taken), *occupied(situation, found.placed))
    return plan_of(situation, placed)


def occupied(situation: Situation, placed: Iterable[Placed]) -> tuple[dict[str, list[Window]], dict[str, list[Window]]]:
    """Return when placed steps take each person and each station, stays from their beginning to their end."""
    jobs = situation.by_name
    people: dict[str, list[Window]] = {}
    places: dict[str, list[Window]] = {}
    running = {each.job: each for each in situation.running}
    steps = {(each.job, each.step): each for each in placed}
    for each in steps.values():
        if each.technician and each.start < each.hands_end:
            people.setdefault(each.technician, []).append((each.start, each.hands_end))
    for name in {job for job, _ in steps}:
        mine = sorted(which for job, which in steps if job == name)
        groups = [stay for stay in stays(jobs[name], mine[0]) if (name, stay[-1]) in steps]
        for stay in groups:
            first, last = steps[name, stay[0]], steps[name, stay[-1]]
            if first.station:
                kept = kept_for(jobs[name], running.get(name), stay[0])
                leaves = last.end if jobs[name].steps[stay[-1]].keeps_station else last.hands_end
                places.setdefault(first.station, []).append((kept.end if kept else first.start, leaves))
    return people, places


def less(shop: Shop, people: dict[str, list[Window]], places: dict[str, list[Window]]) -> Shop:
    """Return the shop without what is taken of people and stations."""
    left = tuple(replace(each, windows=cut(each.windows, people.get(each.name, []))) for each in shop.technicians)
    stations = tuple(replace(each, out=(*each.out, *places.get(each.name, []))) for each in shop.stations)
    return Shop(left, stations, shop.open)
