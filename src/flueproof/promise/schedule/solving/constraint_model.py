"""The plan as a model for a constraint solver: people and stations that are alike are one cumulative resource.

Likeness is what makes it exact: whoever has the same skills and hours may be exchanged, so a cumulative limit is enough
and the names are handed out afterwards (`handing_out.py`). People who differ are told apart by optional intervals, and
a further cumulative over everybody keeps the bound strong.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from flueproof.promise.schedule.model import Job, Placed, Situation, Station, Step, Technician, Window, cut
from flueproof.promise.schedule.placing.board import kept_for, stays
from flueproof.promise.schedule.placing.timeline import NEVER, complement, merged

PersonClass = tuple[frozenset[str], tuple[Window, ...]]
StationClass = tuple[frozenset[str], tuple[Window, ...]]
EARLIEST = -100_000
"""No work that runs already began longer ago than this on the axis [min]."""


@dataclass
class Variables:
    """The variables of a model and what they stand for."""

    start: dict[tuple[str, int], Any] = field(default_factory=dict)
    hands_end: dict[tuple[str, int], Any] = field(default_factory=dict)
    end: dict[tuple[str, int], Any] = field(default_factory=dict)
    person: dict[tuple[str, int], list[tuple[PersonClass, Any]]] = field(default_factory=dict)
    place: dict[tuple[str, int], list[tuple[StationClass, Any]]] = field(default_factory=dict)
    job_end: dict[str, Any] = field(default_factory=dict)
    late: dict[str, Any] = field(default_factory=dict)
    broken: dict[str, Any] = field(default_factory=dict)


class ConstraintModel:
    """The model of one situation: build it once, then ask for one aim after the other."""

    def __init__(self, situation: Situation, until: int) -> None:
        """Build the model with the opening hours that begin before the minute `until`."""
        from ortools.sat.python import cp_model  # noqa: PLC0415 -- takes more than a second to load

        self.cp = cp_model
        self.model = cp_model.CpModel()
        self.situation = situation
        self.open = [window for window in situation.shop.open if window[0] < until]
        self.horizon = self.open[-1][1]
        self.of = Variables()
        self.people = person_classes(situation.shop.technicians)
        self.stations = station_classes(situation.shop.stations)
        self._hands: defaultdict[PersonClass, list[Any]] = defaultdict(list)
        self._all_hands: list[Any] = []
        self._stands: defaultdict[StationClass, list[Any]] = defaultdict(list)
        self._one_day: list[Any] = []
        self._running = {each.job: each for each in sorted(situation.running, key=lambda each: each.step)}
        for job in situation.jobs:
            self._add_job(job)
        self._add_running()
        self._limit()

    # -- steps ------------------------------------------------------------------------------------------------------

    def _add_job(self, job: Job) -> None:
        running = self._running.get(job.name)
        first = job.finished if running is None else running.step + 1
        ready = job.release if running is None else max(job.release, running.end)
        before: Any = None
        for stay in stays(job, first):
            for which in stay:
                earliest = max(ready, job.steps[which].not_before)
                self._add_step(job.name, which, job.steps[which], earliest)
                if before is not None:
                    self.model.add(self.of.start[job.name, which] >= before)
                before = self.of.end[job.name, which]
            self._add_stay(job, stay, kept_for(job, running, stay[0]))
        end = ready if before is None else before
        self.of.job_end[job.name] = end
        if job.promised is not None:
            late = self.model.new_int_var(0, max(0, self.horizon - job.promised), f"late {job.name}")
            broken = self.model.new_bool_var(f"broken {job.name}")
            self.model.add(late >= end - job.promised)
            self.model.add(end <= job.promised).only_enforce_if(~broken)
            self.model.add(late == 0).only_enforce_if(~broken)
            self.of.late[job.name], self.of.broken[job.name] = late, broken

    def _add_step(self, job: str, which: int, step: Step, ready: int) -> None:
        """Add start, end of hands and end; the start only where hands and waiting fit into opening hours."""
        key, name = (job, which), f"{job}/{which}"
        hours = self.open
        solid = step.hands_on + (0 if step.overnight else step.waiting)
        fits = [[max(opens, ready), closes - solid] for opens, closes in hours]
        start = self.model.new_int_var_from_domain(
            self.cp.Domain.from_intervals([each for each in fits if each[0] <= each[1]]), f"start {name}"
        )
        self.of.start[key] = start
        self.of.hands_end[key] = start + step.hands_on
        self.of.end[key] = self._rested(start, step, name) if step.overnight and step.waiting else start + solid
        if step.hands_on:
            self._add_person(key, step, start, name)

    def _rested(self, start: Any, step: Step, name: str) -> Any:
        """Return the end of a waiting that a night cuts short."""
        hours, hands_end = self.open, start + step.hands_on
        end = self.model.new_int_var(0, self.horizon + step.waiting, f"end {name}")
        whole = self.model.new_bool_var(f"{name} rests whole")
        self.model.add(end == hands_end + step.waiting).only_enforce_if(whole)
        ways = [whole]
        for (opens, closes), (following, _) in pairwise(hours):
            night = self.model.new_bool_var(f"{name} rests until {following}")
            self.model.add(hands_end >= opens).only_enforce_if(night)
            self.model.add(hands_end <= closes).only_enforce_if(night)
            self.model.add(end == following).only_enforce_if(night)
            ways.append(night)
        self.model.add_exactly_one(ways)
        return end

    def _add_person(self, key: tuple[str, int], step: Step, start: Any, name: str) -> None:
        able = [each for each in self.people if step.skill in each[0]]
        length = step.hands_on
        self._all_hands.append(self.model.new_fixed_size_interval_var(start, length, f"hands {name}"))
        ways: list[tuple[PersonClass, Any]] = []
        for each in able:
            if len(able) == 1:
                chosen: Any = 1
                interval = self._all_hands[-1]
            else:
                chosen = self.model.new_bool_var(f"{name} by {len(ways)}")
                interval = self.model.new_optional_fixed_size_interval_var(start, length, chosen, f"{name} by")
            self._hands[each].append(interval)
            ways.append((each, chosen))
        if len(able) > 1:
            self.model.add_exactly_one([chosen for _, chosen in ways])
        self.of.person[key] = ways

    def _add_stay(self, job: Job, stay: Sequence[int], kept: Placed | None) -> None:
        """Add the time at one station, from the first step of the stay until the last one leaves it."""
        kind = job.steps[stay[0]].station
        if not kind:
            return
        first, last = (job.name, stay[0]), (job.name, stay[-1])
        step = job.steps[stay[-1]]
        start = self.of.start[first] if kept is None else kept.end
        end = self.of.end[last] if step.keeps_station else self.of.hands_end[last]
        size = self.model.new_int_var(0, self.horizon, "")
        ways: list[tuple[StationClass, Any]] = []
        able = [each for each in self.stations if kind in each[0]]
        if kept is not None:
            able = [each for each in able if kept.station in self.stations[each]]
        fixed = kept is None and len(stay) == 1 and not (step.overnight and step.keeps_station)
        length = step.hands_on + (step.waiting if step.keeps_station else 0)
        for each in able:
            chosen: Any = 1 if len(able) == 1 else self.model.new_bool_var("")
            interval = (
                self.model.new_optional_fixed_size_interval_var(start, length, chosen, "")
                if fixed
                else self.model.new_optional_interval_var(start, size, end, chosen, "")
            )
            self._stands[each].append(interval)
            ways.append((each, chosen))
        if len(able) > 1:
            self.model.add_exactly_one([chosen for _, chosen in ways])
        if not fixed:
            whole = self.model.new_interval_var(start, size, end, "")
            if kept is None and not any(job.steps[which].overnight for which in stay):
                self._one_day.append(whole)
        self.of.place[first] = ways

    # -- what limits them -------------------------------------------------------------------------------------------

    def _add_running(self) -> None:
        """Add what runs, but for the times at which its person or station is out anyway."""
        jobs = self.situation.by_name
        stations = {each.name: each for each in self.situation.shop.stations}
        for one in self.situation.shop.technicians:
            spans = [(each.start, each.hands_end) for each in self.situation.running if each.technician == one.name]
            for span in cut(merged(spans), complement(one.windows)):
                self._hands[one.skills, one.windows].append(self._fixed(*span))
                self._all_hands.append(self._fixed(*span))
        for each in self.situation.running:
            if each.station in stations:
                here = stations[each.station]
                end = each.end if jobs[each.job].steps[each.step].keeps_station else each.hands_end
                self._stands[here.kinds, here.out] += [
                    self._fixed(*span) for span in cut([(each.start, end)], here.out)
                ]

    def _limit(self) -> None:
        everybody: list[tuple[Any, int]] = []
        for each, names in self.people.items():
            away = [(self._fixed(*span), len(names)) for span in _within(complement(each[1]), self.horizon)]
            everybody += away
            self._cumulative(self._hands[each], away, len(names))
        if len(self.people) > 1:
            self._cumulative(self._all_hands, everybody, sum(map(len, self.people.values())))
        for place, names in self.stations.items():
            out = [(self._fixed(*span), len(names)) for span in place[1]]
            self._cumulative(self._stands[place], out, len(names))
        if self._one_day:
            nights = _within(complement(self.open), self.horizon)
            count = len(self._one_day)
            self._cumulative(self._one_day, [(self._fixed(*span), count) for span in nights], count)

    def _cumulative(self, work: Iterable[Any], taken: Iterable[tuple[Any, int]], limit: int) -> None:
        work, taken = list(work), list(taken)
        if not work:
            return
        demands = [1] * len(work) + [demand for _, demand in taken]
        self.model.add_cumulative([*work, *(span for span, _ in taken)], demands, limit)

    def _fixed(self, start: int, end: int) -> Any:
        return self.model.new_fixed_size_interval_var(start, end - start, "")

    # -- hints --------------------------------------------------------------------------------------------------------

    def hint(self, placed: Iterable[Placed]) -> None:
        """Tell the solver a plan to start from."""
        self.model.clear_hints()  # type: ignore[no-untyped-call]
        people = {each.name: (each.skills, each.windows) for each in self.situation.shop.technicians}
        stations = {each.name: (each.kinds, each.out) for each in self.situation.shop.stations}
        ends: dict[str, int] = {}
        for each in placed:
            key = (each.job, each.step)
            ends[each.job] = max(ends.get(each.job, 0), each.end)
            if key not in self.of.start:
                continue
            self.model.add_hint(self.of.start[key], each.start)
            for alike, chosen in self.of.person.get(key, ()):
                if not isinstance(chosen, int):
                    self.model.add_hint(chosen, people.get(each.technician) == alike)
            for like, chosen in self.of.place.get(key, ()):
                if not isinstance(chosen, int):
                    self.model.add_hint(chosen, stations.get(each.station) == like)
        for job in self.situation.jobs:
            if job.name in self.of.late and job.promised is not None:
                over = max(0, ends.get(job.name, job.release) - job.promised)
                self.model.add_hint(self.of.late[job.name], over)
                self.model.add_hint(self.of.broken[job.name], over > 0)


def person_classes(technicians: Iterable[Technician]) -> Mapping[PersonClass, list[str]]:
    """Return the names of those who are alike in skills and hours."""
    found: defaultdict[PersonClass, list[str]] = defaultdict(list)
    for each in technicians:
        found[each.skills, each.windows].append(each.name)
    return dict(found)


def station_classes(stations: Iterable[Station]) -> Mapping[StationClass, list[str]]:
    """Return the names of the stations at which the same can be done, and that are in service at the same times."""
    found: defaultdict[StationClass, list[str]] = defaultdict(list)
    for each in stations:
        found[each.kinds, each.out].append(each.name)
    return dict(found)


def _within(spans: Iterable[Window], horizon: int) -> list[Window]:
    cutoff = [(max(start, EARLIEST), min(end, horizon + 1)) for start, end in spans]
    return [(start, end) for start, end in cutoff if start < end < NEVER]
