"""What a change of hours, closed days or stations would do to the open promises, before it is kept.

The change is made, the plan is made with it, and both are taken back; nothing of it is ever seen by anybody else.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass

from django.db import transaction

from flueproof.promise.calendar.errors import CalendarError
from flueproof.promise.schedule.model import PlanError
from flueproof.shop.records.promises.plan.bench import Bench, bench_at
from flueproof.shop.records.promises.plan.risk import risks_of
from flueproof.shop.records.promises.planning import kept_or_planned, latest_plan

_SERIOUS = 0.1


class ImpossibleChangeError(ValueError):
    """A change after which nothing could be planned at all; the message says why."""


@dataclass(frozen=True, slots=True)
class Risky:
    """An open promise that a change puts at risk: how likely it breaks before and after, and the day."""

    number: str
    who: str
    promised: dt.date | None
    before: float
    after: float


def effect_of(change: Callable[[], None], now: dt.datetime) -> list[Risky]:
    """Return the open promises that become risky by a change, the worst first; the change is not kept.

    Raises: ImpossibleChangeError.
    """
    before: tuple[dict[str, float], Bench | None] = ({}, None)
    after = before
    with suppress(PlanError, CalendarError):  # what is set now cannot be planned with? Then every change may mend that.
        before = _risks(now)
    try:
        with transaction.atomic():
            change()
            after = _risks(now)
            transaction.set_rollback(True)
    except (PlanError, CalendarError) as error:
        raise ImpossibleChangeError(f"So nothing could be planned: {error}") from error
    return sorted(_worse(before[0], after[0], after[1]), key=lambda one: (-one.after, one.number))


def _worse(before: dict[str, float], after: dict[str, float], bench: Bench | None) -> list[Risky]:
    found = []
    for number, risk in after.items():
        was = before.get(number, 0.0)
        if bench is not None and risk >= _SERIOUS and risk > was + 0.05:
            job = bench.jobs[number]
            found.append(Risky(number, f"{job.analyzer} of {job.owner}", job.promised_on, was, risk))
    return found


def _risks(now: dt.datetime) -> tuple[dict[str, float], Bench]:
    """Return how likely each planned promise breaks; one that cannot be planned any more breaks for certain."""
    bench = bench_at(now)
    last = latest_plan()
    plan, problem = kept_or_planned(bench, last.content if last else None)
    risks = risks_of(bench, plan) if not problem else {job.name: 1.0 for job in bench.situation.jobs}
    lacking = {number: 1.0 for number, job in bench.jobs.items() if number in bench.lacking and job.promised_on}
    return {**{name: risk for name, risk in risks.items() if bench.jobs[name].promised_on}, **lacking}, bench
