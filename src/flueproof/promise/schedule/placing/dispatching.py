"""Plans made from the clock: whoever is free takes the first job of an order that can go on now.

Where `placing.py` gives the first job of an order everything it wants, which leaves holes of minutes between the steps
of others, this leaves none: nobody waits while there is something to do.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from heapq import heappop, heappush

from flueproof.promise.schedule.model import Job, Plan, Situation, Step
from flueproof.promise.schedule.placing.board import Board
from flueproof.promise.schedule.placing.ordering import standing_first
from flueproof.promise.schedule.placing.timeline import NEVER


def dispatch(situation: Situation, order: Iterable[Job], turns: Mapping[tuple[str, int], int] | None = None) -> Plan:
    """Return the plan in which at every minute the first job of the order that can go on does.

    `turns`: where given, the job whose next step has the smallest turn goes first, the order breaks ties. Steps that
    share a stay at one station are placed together. Raises PlanError where a step finds no time.
    """
    board = Board(situation)
    queue = _Queue(board, standing_first(board, order), turns)
    while queue.later or any(queue.ready.values()):
        now = queue.wake()
        while (job := queue.first(now)) is not None:
            start = queue.begin_at(job, now)
            end = board.place_from(job, now) if start <= now else -start
            queue.sleep(job, abs(end), now)
            if end >= 0:
                queue.here.clear()
    return board.plan()


class _Queue:
    """The jobs that wait: those that may go on now by what their next step needs of a person, the others by when.

    `later`: (minute, turn, place in the order) of those that cannot go on yet. `ready`: by skill, (turn, place) of
    those that could. `free`: when somebody with a skill is free at the earliest; nobody ever becomes free sooner.
    `here`: the skills of which somebody is free now, known since the last placing. `blocked`: by skill, (hands, hands
    and waiting, until when) of steps that found nobody, so a longer one need not be tried.
    """

    def __init__(self, board: Board, order: list[Job], turns: Mapping[tuple[str, int], int] | None) -> None:
        self.board, self.order, self.turns, self.now = board, order, turns, -NEVER
        self.place = {job.name: place for place, job in enumerate(order)}
        self.later: list[tuple[int, int, int]] = []
        self.ready: dict[str, list[tuple[int, int]]] = {}
        self.free: dict[str, int] = {}
        self.here: set[str] = set()
        self.blocked: dict[str, list[tuple[int, int, int]]] = {}
        for job in order:
            if board.open_stay(job) is not None:
                self.sleep(job, board.ready[job.name], -NEVER)

    def sleep(self, job: Job, until: int, now: int) -> None:
        """Put a job aside until a minute, at least the next; one with nothing left is gone."""
        stay = self.board.open_stay(job)
        if stay is not None:
            turn = 0 if self.turns is None else self.turns.get((job.name, stay[0]), NEVER)
            heappush(self.later, (max(until, now + 1), turn, self.place[job.name]))

    def wake(self) -> int:
        """Return the next minute at which something can go on, those that can from then on made ready."""
        now = self.later[0][0] if self.later else NEVER
        for skill, jobs in self.ready.items():
            if jobs:
                now = min(now, self._free(skill, self.now))
        self.now = now
        while self.later and self.later[0][0] <= now:
            _, turn, place = heappop(self.later)
            heappush(self.ready.setdefault(_skill(self.board, self.order[place]), []), (turn, place))
        self.here.clear()
        return now

    def first(self, now: int) -> Job | None:
        """Return the first job that can go on now as far as people are concerned, taken out of the queue."""
        best: list[tuple[int, int]] | None = None
        for skill, jobs in self.ready.items():
            if jobs and (best is None or jobs[0] < best[0]) and self._free(skill, now) <= now:
                best = jobs
        return None if best is None else self.order[heappop(best)[1]]

    def begin_at(self, job: Job, now: int) -> int:
        """Return when the next step of a job finds its person at the earliest, or a minute after now before that."""
        step = _next_step(self.board, job)
        known = self.blocked.setdefault(step.skill, [])
        hands, solid = step.hands_on, step.hands_on + (0 if step.overnight else step.waiting)
        for fewer, shorter, until in known:
            if fewer <= hands and shorter <= solid and until > now:
                return until
        start = self.board.begin_at(job, now)
        if start > now >= step.not_before and hands:
            known[:] = [each for each in known if each[2] > now and (each[0] < hands or each[1] < solid)]
            known.append((hands, solid, start))
        return start

    def _free(self, skill: str, now: int) -> int:
        if skill in self.here or not skill or skill not in self.board.able:
            return now
        if self.free.get(skill, now) <= now:
            self.free[skill] = self.board.someone_free(skill, now)
        if self.free[skill] <= now:
            self.here.add(skill)
        return self.free[skill]


def _next_step(board: Board, job: Job) -> Step:
    return job.steps[(board.open_stay(job) or [0])[0]]


def _skill(board: Board, job: Job) -> str:
    step = _next_step(board, job)
    return step.skill if step.hands_on else ""


def by_urgency(situation: Situation, patience: float) -> Sequence[Job]:
    """Return the jobs by apparent tardiness cost: little work first, the more so the less time there is to spare.

    `patience`: how many mean jobs ahead a promise is looked at; small = as by due date, great = as shortest first.
    Source: Vepsalainen and Morton, Management Science 33 (1987) 1035, the rule (from memory); as an order: ours.
    """
    jobs = sorted(situation.jobs, key=lambda job: job.name)
    if not jobs:
        return jobs
    speed = _speed(situation)
    hands = {job.name: job.hands_on for job in jobs}
    mean = sum(hands.values()) / len(jobs) / speed
    reach = max(1.0, patience * mean)
    left = [(job.release, job.weight / max(1, hands[job.name]), _latest(job), job) for job in jobs]
    order, now = [], 0.0
    while left:
        come = [each for each in left if each[0] <= now + mean] or [min(left, key=lambda each: each[0])]
        best = max(come, key=lambda each: each[1] * math.exp(-min(20.0, max(0.0, each[2] - now) / reach)))
        left.remove(best)
        order.append(best[3])
        now = max(now, best[0]) + hands[best[3].name] / speed
    return order


def _latest(job: Job) -> float:
    """Return when a job must begin at the latest, infinite without a promise."""
    return math.inf if job.promised is None else job.promised - job.minutes


def _speed(situation: Situation) -> float:
    """Return how many people are there on the mean minute."""
    there = sum(end - start for each in situation.shop.technicians for start, end in each.windows)
    return max(0.1, there / max(1, situation.shop.horizon))
