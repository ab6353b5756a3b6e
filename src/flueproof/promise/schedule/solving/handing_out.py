"""Hand the intervals of a solved model to named people and stations, by a sweep over time."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, TypeVar

from flueproof.promise.schedule.model import Placed, Plan, plan_of
from flueproof.promise.schedule.placing.board import kept_for, rest_end, stays
from flueproof.promise.schedule.solving.constraint_model import ConstraintModel

Key = TypeVar("Key", bound=tuple[str, int])


def hand_out(
    spans: Iterable[tuple[int, int, Key]], names: Sequence[str], free_from: Mapping[str, int]
) -> dict[Key, str]:
    """Return who takes which span: (start, end, key) -> name, nobody two at a time.

    `free_from`: from when each of them is free, for what they have in hand already. Where at no time more spans run
    than there are names, the sweep always succeeds; else ValueError tells of the span left over.
    """
    free = {name: free_from.get(name, -(10**9)) for name in names}
    given: dict[Key, str] = {}
    for start, end, key in sorted(spans):
        ready = [(-free[name], name) for name in names if free[name] <= start]
        if not ready:
            raise ValueError(f"No one is left for {key} from {start} to {end}.")
        # Who was busy last takes it: whoever has been free for long stays free for long.
        _, name = min(ready)
        given[key] = name
        free[name] = end
    return given


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
