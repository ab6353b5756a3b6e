"""What is planned: people, stations, jobs with their steps, and the plan itself.

Every time is a whole number of minutes on the axis of the shop (`axis.py`): minute 0 is the moment the plan is made,
nights and closed days are left out but for a short gap that nothing crosses which cannot be left alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

Window = tuple[int, int]
Found = Literal["quick plan", "best found", "proved best"]


class PlanError(ValueError):
    """The work cannot be planned as it was handed over: what is wrong, where, and what to do."""


@dataclass(frozen=True, slots=True)
class Technician:
    """One person: what they can do, and when they are there [minutes, sorted, apart from one another]."""

    name: str
    skills: frozenset[str]
    windows: tuple[Window, ...]


@dataclass(frozen=True, slots=True)
class Station:
    """One place that takes one analyzer at a time: "gas", "temperature", "draft"; `out` = when it is out of service.

    `also`: the further kinds of work that can be done there.
    """

    name: str
    kind: str
    out: tuple[Window, ...] = ()
    also: frozenset[str] = frozenset()

    @property
    def kinds(self) -> frozenset[str]:
        """All kinds of work that can be done there."""
        return self.also | {self.kind}


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a job: first the hands, then the waiting, which keeps nobody.

    `hands_on`: minutes of a person with `skill` (0 = nobody is needed). `waiting`: minutes of warm-up, settling or soak
    after it. `station`: the kind it needs, "" for none; left after the hands, or kept (`keeps_station`) through the
    waiting and, where the next step needs the same kind, until that one is done. `overnight`: the waiting may run
    through a night, and a night is long enough for it. `not_before`: the day its parts come.
    """

    name: str
    hands_on: int
    waiting: int = 0
    skill: str = "bench"
    station: str = ""
    keeps_station: bool = False
    overnight: bool = False
    not_before: int = 0


@dataclass(frozen=True, slots=True)
class Job:
    """One job: its steps in order, from when it can begin, until when it is promised (None = no date given).

    `finished`: how many of the first steps are done. `weight`: how much a minute of its lateness counts.
    """

    name: str
    steps: tuple[Step, ...]
    release: int = 0
    promised: int | None = None
    weight: int = 1
    finished: int = 0

    @property
    def minutes(self) -> int:
        """Hands-on and waiting minutes that are left."""
        return sum(step.hands_on + step.waiting for step in self.steps[self.finished :])

    @property
    def hands_on(self) -> int:
        """Hands-on minutes that are left."""
        return sum(step.hands_on for step in self.steps[self.finished :])


@dataclass(frozen=True, slots=True)
class Placed:
    """One step in the plan: hands from `start` to `hands_end`, waiting until `end`; who and where ("" = none)."""

    job: str
    step: int
    start: int
    hands_end: int
    end: int
    technician: str = ""
    station: str = ""


@dataclass(frozen=True, slots=True)
class Shop:
    """The people, the stations and the hours in which the shop is open [minutes]."""

    technicians: tuple[Technician, ...]
    stations: tuple[Station, ...]
    open: tuple[Window, ...]

    @property
    def horizon(self) -> int:
        """The last minute the calendar handed over."""
        return self.open[-1][1] if self.open else 0

    def without(self, person: str, away: Iterable[Window]) -> Shop:
        """Return the shop in which one person is away at these times. Raises PlanError for a stranger."""
        if person not in {technician.name for technician in self.technicians}:
            raise PlanError(f"Nobody in the plan is called {person!r}.")
        gone = list(away)
        people = [
            replace(each, windows=cut(each.windows, gone)) if each.name == person else each for each in self.technicians
        ]
        return replace(self, technicians=tuple(people))


@dataclass(frozen=True, slots=True)
class Situation:
    """What is to be planned now: the shop, the open jobs, and the steps that run already and stay where they are."""

    shop: Shop
    jobs: tuple[Job, ...]
    running: tuple[Placed, ...] = ()

    @property
    def by_name(self) -> Mapping[str, Job]:
        """The jobs by name."""
        return {job.name: job for job in self.jobs}


@dataclass(frozen=True, slots=True)
class Plan:
    """Every step that is left, placed. `found`: how it was found; `bound`: what no plan can beat, where known."""

    situation: Situation
    placed: tuple[Placed, ...]
    found: Found = "quick plan"
    bound: tuple[int, int, int] | None = None
    ends: Mapping[str, int] = field(default_factory=dict)

    def of_job(self, name: str) -> list[Placed]:
        """Return the placed steps of one job in order."""
        return sorted((each for each in self.placed if each.job == name), key=lambda each: each.step)

    def of_technician(self, name: str) -> list[Placed]:
        """Return what one person does, in order: the work list."""
        return sorted((each for each in self.placed if each.technician == name), key=lambda each: each.start)

    def of_station(self, name: str) -> list[Placed]:
        """Return what stands at one station, in order."""
        return sorted((each for each in self.placed if each.station == name), key=lambda each: each.start)


def plan_of(situation: Situation, placed: Iterable[Placed], found: Found = "quick plan") -> Plan:
    """Return a plan with the end of every job worked out: a job with nothing left ends at its release."""
    steps = tuple(sorted(placed, key=lambda each: (each.start, each.job, each.step)))
    ends = {job.name: job.release for job in situation.jobs}
    for each in steps:
        ends[each.job] = max(ends[each.job], each.end)
    return Plan(situation, steps, found, None, ends)


def cut(windows: Iterable[Window], away: Iterable[Window]) -> tuple[Window, ...]:
    """Return the windows without the times away."""
    left = list(windows)
    for gone_from, gone_to in away:
        pieces = [((start, min(end, gone_from)), (max(start, gone_to), end)) for start, end in left]
        left = [piece for pair in pieces for piece in pair if piece[0] < piece[1]] if gone_from < gone_to else left
    return tuple(left)
