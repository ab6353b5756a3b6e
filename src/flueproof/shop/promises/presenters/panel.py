"""The promise of one job on its page: the sentence the owner sees, what stopped the clock, what is in the way."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any

from flueproof.promise.clock.events import REASONS
from flueproof.promise.clock.wording import days_in_words, moment_in_words, promise_in_words
from flueproof.shop.frame.presenters.pages import address_of
from flueproof.shop.promises.presenters.next_step import NextStep, next_step_of
from flueproof.shop.promises.presenters.risk import RiskMark, risk_mark
from flueproof.shop.records.models import Job
from flueproof.shop.records.people.rights import may
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.clock import clock_of
from flueproof.shop.records.promises.events import life_rows
from flueproof.shop.records.promises.kept.broken import ToldAgain, told_again
from flueproof.shop.records.promises.paperwork import Missing, missing_paperwork
from flueproof.shop.records.promises.plan.content import axis_of, work_of
from flueproof.shop.records.promises.planning import latest_plan


@dataclass(frozen=True, slots=True)
class StopLine:
    """One stop in words: why, from when to when, what it cost."""

    why: str
    words: str
    since: dt.datetime
    until: dt.datetime | None
    cost: str


@dataclass(frozen=True, slots=True)
class Panel:
    """What the panel prints. sentence: the same day as the owner is told; planned: when the plan has it done."""

    job: Job
    sentence: str
    for_owner: str
    status: str
    started: dt.datetime | None
    left: str
    given: dt.date | None
    stops: list[StopLine]
    risks: list[str]
    missing: list[Missing]
    planned: str
    risk: RiskMark | None
    may_give: bool
    may_check: bool
    loan: str
    next_step: NextStep | None
    again: list[ToldAgain]


def panel_of(job: Job, person: Any, now: dt.datetime) -> Panel:
    """Return the promise of a job as this person sees it."""
    calendar = shop_calendar()
    state = clock_of(job, now, calendar=calendar)
    open_still = state.status in {"not-started", "running", "standing"}
    planned, mark = _planned(job) if open_still else ("", None)
    at_risk = state.is_late or (mark is not None and mark.serious)
    return Panel(
        job=job,
        sentence=promise_in_words(state, calendar),
        for_owner=promise_in_words(state, calendar, "owner"),
        status=state.status,
        started=state.started_at,
        left="" if state.left is None or not open_still else _left(state.left),
        given=state.given_on,
        stops=[
            StopLine(REASONS[stop.why][1], stop.words, stop.since, stop.until, _cost(stop.moved, float(stop.stood)))
            for stop in state.stops
        ],
        risks=list(state.risks),
        missing=missing_paperwork(job) if state.started_at is None and job.is_open else [],
        planned=planned,
        risk=mark,
        may_give=open_still and may(person, "plan-work"),
        may_check=may(person, "receive-boxes") and job.state not in {"requested", "returned", "dropped"},
        loan=address_of("returns:loans") if at_risk and may(person, "lend") else "",
        next_step=next_step_of(job, state, now),
        again=told_again(life_rows(job)),
    )


def _planned(job: Job) -> tuple[str, RiskMark | None]:
    """Return when the last plan has a job done, and its risk."""
    plan = latest_plan()
    told = plan.content["jobs"].get(job.number) if plan else None
    if plan is None or told is None:
        return "", None
    calendar = shop_calendar()
    done = axis_of(plan.content).moment(told["ends"])
    first = next((one for one in work_of(plan.content) if one.job == job.number), None)
    begins = f"{first.words}, {moment_in_words(first.start, calendar)}" if first else ""
    who = f" by {first.who}" if first and first.who else ""
    return f"Next: {begins}{who}. Done {moment_in_words(done, calendar)}.", risk_mark(
        told["risk"], promised=told["due"]
    )


def _left(days: int) -> str:
    return (
        "due today" if days == 0 else f"{days_in_words(days)} left" if days > 0 else f"over by {days_in_words(-days)}"
    )


def _cost(moved: int, stood: float) -> str:
    """Return what a stop cost: the whole days by which it moved the promise, and how long it really stood."""
    days = "none" if not moved else days_in_words(moved)
    return f"{days} ({stood:.1f} stood)"
