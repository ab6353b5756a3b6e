"""Whole plans from an order of jobs, from a plan made before, or around one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from flueproof.promise.schedule.model import Job, Placed, Plan, Situation
from flueproof.promise.schedule.placing.board import Board, kept_for, leaves, stays
from flueproof.promise.schedule.placing.timeline import NEVER


def place_in_order(situation: Situation, order: Iterable[Job]) -> Plan:
    """Return the plan in which the jobs are placed in this order. Raises PlanError where a step finds no time."""
    board = Board(situation)
    for job in standing_first(board, order):
        board.place(job)
    return board.plan()


def standing_first(board: Board, order: Iterable[Job]) -> list[Job]:
    """Return the order with those in front who stand at a station that is kept, after placing what keeps it.

    Nobody may be put there before, not even another of them on its way through its later steps.
    """
    jobs = list(order)
    standing = {job.name for job in jobs if board.goes_on(job)}
    go_on(board)
    return sorted(jobs, key=lambda job: job.name not in standing)


def replay(situation: Situation, plan: Plan, first: Sequence[Job] = (), after: int = -NEVER) -> Plan:
    """Return the plan made again in its own order, each stay as early as it goes; steps that run stay.

    The jobs in `first` are placed whole before everything that begins later than the minute `after`; jobs the plan does
    not know come last. Raises PlanError where a step finds no time.
    """
    return next(replays(situation, plan, first, (after,)))


def replays(situation: Situation, plan: Plan, first: Sequence[Job], turns: Iterable[int]) -> Iterator[Plan]:
    """Yield what `replay` returns for each of these minutes (in order); what comes before them is placed only once."""
    board, jobs = Board(situation), situation.by_name
    go_on(board)
    at = 0
    for after in turns:
        while at < len(plan.placed) and plan.placed[at].start <= after:
            _again(board, jobs, plan.placed[at])
            at += 1
        found = board.copy()
        for job in first:
            found.place(job)
        for each in plan.placed[at:]:
            _again(found, jobs, each)
        for job in situation.jobs:
            found.place(job)
        yield found.plan()


def _again(board: Board, jobs: Mapping[str, Job], each: Placed) -> None:
    if each.job in jobs and board.is_next(jobs[each.job], each.step):
        board.place_next(jobs[each.job])


def keep(situation: Situation, plan: Plan) -> Plan:
    """Return the plan as it stands for what is true now: each step where it was, or else as early as it goes.

    Steps that are done are left out; jobs the plan does not know come last, into its gaps. Raises PlanError where a
    step finds no time.
    """
    board = Board(situation)
    jobs = situation.by_name
    placed = _by_job(plan.placed)
    for job in situation.jobs:
        if board.goes_on(job) and not (board.open_stay(job) and board.place_as(job, placed.get(job.name, {}))):
            board.place_next(job)
    for each in plan.placed:
        if each.job not in jobs or not board.is_next(jobs[each.job], each.step):
            continue
        if not board.place_as(jobs[each.job], placed[each.job]):
            board.place_next(jobs[each.job])
    for job in situation.jobs:
        board.place(job)
    return board.plan()


def go_on(board: Board) -> None:
    """Place what follows a running step at a station that is kept for it: nobody may be put there before."""
    for job in board.situation.jobs:
        if board.goes_on(job):
            board.place_next(job)


def extend(situation: Situation, plan: Plan) -> Plan:
    """Return the plan with the jobs it does not know put into its gaps; nothing that is placed moves.

    Raises PlanError where a step finds no time.
    """
    board = Board(situation)
    running, jobs = set(situation.running), situation.by_name
    standing = [each for each in plan.placed if each not in running]
    board.placed += standing
    for name, steps in _by_job(standing).items():
        for stay in stays(jobs[name], min(steps)):
            for each in (steps[which] for which in stay):
                if each.technician:
                    board.people[each.technician].take(each.start, each.hands_end)
            first, last = steps[stay[0]], steps[stay[-1]]
            kept = kept_for(jobs[name], board.begun.get(name), stay[0])
            if first.station:
                board.places[first.station].take(kept.end if kept else first.start, leaves(jobs[name], last))
    for job in situation.jobs:
        if job.name not in plan.ends:
            board.place(job)
    return board.plan()


def _by_job(placed: Iterable[Placed]) -> dict[str, dict[int, Placed]]:
    found: dict[str, dict[int, Placed]] = {}
    for each in placed:
        found.setdefault(each.job, {})[each.step] = each
    return found
