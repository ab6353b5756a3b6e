"""The cheapest way through the shop for each job alone, where every minute of people and stations has its price.

Worked backwards, step by step, for every minute at once: what is left costs at this minute what its end costs, and the
prices of the minutes it uses. Nothing is broken off: hands lie in somebody's hours, a station is held from the first
step of a stay to the last and not through a night, and what comes before ends before.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from flueproof.promise.schedule.model import Job, Situation
from flueproof.promise.schedule.placing.board import kept_for, stays
from flueproof.promise.schedule.solving.scarce import Scarce, allowed, presence

Times = NDArray[np.float64]
Cost = Callable[[Job, Times], Times]
"""What it costs that a job ends at these minutes: never less for a later end."""

NIGHT_PRICE = 1e6
"""What a closed minute costs at a station that must not be held through a night: more than anything else."""


class Leg(NamedTuple):
    """One step on the way: its stay is `first` and `last` of it, `held` from when a running step keeps its station."""

    which: int
    hands: int
    waits: int
    overnight: bool
    skill: str
    kind: str
    keeps: bool
    first: bool
    last: bool
    nights: bool
    begins: Times
    held: int | None


class Way(NamedTuple):
    """One job: from when it can go on, and its legs in order."""

    job: Job
    ready: int
    legs: tuple[Leg, ...]


class Cheapest:
    """The cheapest ways of all jobs, for one price list after another. Minutes from `until` on cost nothing."""

    def __init__(self, situation: Situation, until: int, cost: Cost) -> None:
        self.situation, self.until, self.cost = situation, until, cost
        self.scarce = Scarce(situation, until)
        longest = max((step.hands_on + step.waiting for job in situation.jobs for step in job.steps), default=0)
        self.size = until + 2 + longest
        self.minutes = np.arange(self.size, dtype=np.float64)
        self.opens = _next_opening(situation, self.size)
        self.closed = np.zeros(self.size)
        self.closed[1 : until + 1] = np.cumsum(1.0 - presence(situation.shop.open, until)) * NIGHT_PRICE
        self.closed[until + 1 :] = self.closed[until]
        self._allowed: dict[tuple[str, int, int], Times] = {}
        self.ways = [self._way(job) for job in situation.jobs]
        self.ends = {way.job.name: cost(way.job, self.minutes) for way in self.ways}

    def at(self, prices: Times) -> tuple[float, Times, dict[tuple[str, int], int]]:
        """Return the sum of the cheapest ways, how often each minute of each row is used, and when each step begins.

        `prices`: of each row and minute, shape (rows, until); so is what is used. Steps that begin at `until` begin
        then or at any time later.
        """
        sums = np.zeros((len(prices), self.size))
        sums[:, 1 : self.until + 1] = np.cumsum(prices, axis=1)
        sums[:, self.until + 1 :] = sums[:, self.until : self.until + 1]
        hands = {skill: sums[rows].sum(0) for skill, rows in self.scarce.of_skill.items()}
        stands = {kind: sums[rows].sum(0) for kind, rows in self.scarce.of_kind.items()}
        days = {kind: price + self.closed for kind, price in stands.items()}
        begins: dict[tuple[str, int], int] = {}
        used, total = np.zeros((len(prices), self.size)), 0.0
        for way in self.ways:
            start = min(max(0, way.ready), self.until)
            if not way.legs:
                total += float(self.cost(way.job, np.array([float(way.ready)]))[0])
                continue
            value, choices = self._backwards(way, hands, stands, days)
            total += float(value[start])
            self._forwards(way, start, choices, used, begins)
        return total, np.cumsum(used, axis=1)[:, : self.until], begins

    def _backwards(
        self, way: Way, hands: Mapping[str, Times], stands: Mapping[str, Times], days: Mapping[str, Times]
    ) -> tuple[Times, list[Times]]:
        """Return what the job costs from each minute on, and for each leg what beginning at each minute costs."""
        until, value, after = self.until, self.ends[way.job.name], 0
        choices = []
        for leg in reversed(way.legs):
            after += leg.hands + (0 if leg.overnight else leg.waits)
            ends = self._ends(leg)
            cost = leg.begins + value[ends]
            if leg.hands:
                price = hands[leg.skill]
                cost += price[leg.hands : leg.hands + until + 1] - price[: until + 1]
            station = (stands if leg.nights else days)[leg.kind] if leg.kind else None
            if station is not None:
                out = ends if leg.keeps or not leg.last else slice(leg.hands, leg.hands + until + 1)
                cost += station[out]
            last = self.cost(way.job, np.array([float(until + after)]))[0]
            cost[until] = last if station is None else last + station[until]
            if station is not None and leg.first and leg.held is None:
                cost -= station[: until + 1]
            choices.append(cost)
            least = np.minimum.accumulate(cost[::-1])[::-1]
            if station is not None and not (leg.first and leg.held is None):
                since = np.arange(until + 1) if leg.held is None else min(max(0, leg.held), until)
                least = least - station[since]
            value = np.concatenate([least, np.full(self.size - until - 1, least[until])])
        return value, choices[::-1]

    def _ends(self, leg: Leg) -> slice | NDArray[np.int64]:
        """Return where the step is over, for each minute at which it begins."""
        if not (leg.overnight and leg.waits):
            return slice(leg.hands + leg.waits, leg.hands + leg.waits + self.until + 1)
        hands_end = np.arange(leg.hands, leg.hands + self.until + 1)
        return np.minimum(np.minimum(hands_end + leg.waits, self.opens[hands_end]), self.size - 1)

    def _forwards(
        self, way: Way, at: int, choices: list[Times], used: Times, begins: dict[tuple[str, int], int]
    ) -> None:
        """Follow the cheapest choices from a minute on, and write down what they use."""
        since: int | None = None
        for leg, cost in zip(way.legs, choices, strict=True):
            start = at + int(np.argmin(cost[at:]))
            begins[way.job.name, leg.which] = start
            if leg.first and leg.kind:
                since = start if leg.held is None else min(max(0, leg.held), self.until)
            if start >= self.until:
                break
            hands_end = start + leg.hands
            end = hands_end + leg.waits
            if leg.overnight and leg.waits:
                end = min(end, int(self.opens[hands_end]))
            if leg.hands:
                _use(used, self.scarce.of_skill[leg.skill], start, hands_end)
            if leg.kind and leg.last and since is not None:
                _use(used, self.scarce.of_kind[leg.kind], since, min(end if leg.keeps else hands_end, self.size - 1))
                since = None
            at = min(end, self.until)
        if since is not None:
            _use(used, self.scarce.of_kind[leg.kind], since, self.until)

    def _way(self, job: Job) -> Way:
        running = [each for each in self.situation.running if each.job == job.name]
        last = max(running, key=lambda each: each.step) if running else None
        first = job.finished if last is None else last.step + 1
        ready = job.release if last is None else max(job.release, last.end)
        legs = []
        for stay in stays(job, first):
            kept = kept_for(job, last, stay[0])
            nights = kept is not None or any(job.steps[which].overnight for which in stay)
            for which in stay:
                step = job.steps[which]
                legs.append(
                    Leg(
                        which,
                        step.hands_on,
                        step.waiting,
                        step.overnight,
                        step.skill,
                        step.station,
                        step.keeps_station,
                        which == stay[0],
                        which == stay[-1],
                        nights,
                        self._begins(job, which),
                        kept.end if kept is not None and which == stay[0] else None,
                    )
                )
        return Way(job, ready, tuple(legs))

    def _begins(self, job: Job, which: int) -> Times:
        step = job.steps[which]
        solid = step.hands_on + (0 if step.overnight else step.waiting)
        key = (step.skill if step.hands_on else "", step.hands_on, solid)
        if key not in self._allowed:
            self._allowed[key] = allowed(self.situation.shop, step.skill, step.hands_on, solid, self.until)
        found = self._allowed[key]
        if step.not_before > 0:
            found = found.copy()
            found[: min(step.not_before, self.until)] = np.inf
        return found


def _use(used: Times, rows: list[int], start: int, end: int) -> None:
    used[rows, start] += 1.0
    used[rows, end] -= 1.0


def _next_opening(situation: Situation, size: int) -> NDArray[np.int64]:
    found = np.full(size, 10**9, dtype=np.int64)
    for opens, _ in reversed(situation.shop.open):
        found[: max(0, min(size, opens))] = opens
    return found
