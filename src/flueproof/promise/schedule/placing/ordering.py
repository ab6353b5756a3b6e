"""Whole plans from an order of jobs, from a plan made before, or around one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from flueproof.promise.schedule.model import Job, Plan, Situation
from flueproof.promise.schedule.placing.board import Board, kept_for, leaves, stays
from flueproof.promise.schedule.placing.timeline import NEVER


def place_in_order(situation: Situation, order: Iterable[Job]) -> Plan:
    """Return the plan in which the jobs are placed in this order. Raises PlanError where a step finds no time."""
    board = Board(situation)
    for job in standing_first(board, order):
        board.place(job)
    return board.plan()


def standing_first(board: Board, order: Iterable[Job]) -> list[Job]:
    """Return the order with those in front who stand at a station that is kept: nobody may be put there before."""
    jobs = list(order)
    return sorted(jobs, key=lambda job: not board.goes_on(job))


def replay(situation: Situation, plan: Plan, first: Sequence[Job] = (), after: int = -NEVER) -> Plan:
    """Return the plan made again in its own order, each stay as early as it goes; steps that run stay.

    The jobs in `first` are placed whole before everything that begins later than the minute `after`; jobs the plan does
    not know come last. Raises PlanError where a step finds no time.
    """
    board = Board(situation)
    jobs = situation.by_name
    _go_on(board)
    in_front = list(first)
    for each in plan.placed:
        if in_front and each.start > after:
            for job in in_front:
                board.place(job)
            in_front = []
        if each.job in jobs and board.is_next(jobs[each.job], each.step):
            board.place_next(jobs[each.job])
    for job in [*in_front, *situation.jobs]:
        board.place(job)
    return board.plan()


def keep(situation: Situation, plan: Plan) -> Plan:
    """Return the plan as it stands for what is true now: each step where it was, or else as early as it goes.

    Steps that are done are left out; jobs the plan does not know come last, into its gaps. Raises PlanError where a
    step finds no time.
    """
    board = Board(situation)
    jobs = situation.by_name
    placed = {name: {each.step: each for each in plan.of_job(name)} for name in jobs}
    for job in situation.jobs:
        if board.goes_on(job) and not (board.open_stay(job) and board.place_as(job, placed[job.name])):
            board.place_next(job)
    for each in plan.placed:
        if each.job not in jobs or not board.is_next(jobs[each.job], each.step):
            continue
        if not board.place_as(jobs[each.job], placed[each.job]):
            board.place_next(jobs[each.job])
    for job in situation.jobs:
        board.place(job)
    return board.plan()


def _go_on(board: Board) -> None:
    """Place what follows a running step at a station that is kept for it: nobody may be put there before."""
    for job in board.situation.jobs:
        if board.goes_on(job):
            board.place_next(job)


def extend(situation: Situation, plan: Plan) -> Plan:
    """Return the plan with the jobs it does not know put into its gaps; nothing that is placed moves.

    Raises PlanError where a step finds no time.
    """
    board = Board(situation)
    running = set(situation.running)
    board.placed += [each for each in plan.placed if each not in running]
    jobs = situation.by_name
    for name in {each.job for each in plan.placed}:
        steps = {each.step: each for each in plan.of_job(name) if each not in running}
        for stay in stays(jobs[name], min(steps, default=len(jobs[name].steps))):
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
