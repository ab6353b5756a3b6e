"""What to do about a promise that is broken: whom to call, and which day to offer."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from flueproof.promise.clock.promise_state import PromiseState
from flueproof.shop.records.models import Job, OwnerContact
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.plan.content import axis_of
from flueproof.shop.records.promises.planning import latest_plan


@dataclass(frozen=True, slots=True)
class NextStep:
    """The day that was broken, who can be called, when the plan has it done, and the day to offer (the next one)."""

    broken: dt.date
    contacts: list[OwnerContact]
    planned: dt.datetime | None
    offer: dt.date


def next_step_of(job: Job, state: PromiseState, now: dt.datetime) -> NextStep | None:
    """Return what to do about the promise of a job, None where it is not broken or nothing is owed any more."""
    if not state.is_late or state.promised_on is None or state.status not in {"running", "standing"}:
        return None
    calendar, planned = shop_calendar(), planned_end(job.number)
    done_on = calendar.today(planned) if planned is not None and planned > now else calendar.today(now)
    contacts = [one for one in job.owner.contacts.all() if one.phone or one.email]
    return NextStep(state.promised_on, contacts, planned, calendar.next_business_day(done_on))


def planned_end(number: str) -> dt.datetime | None:
    """Return when the last plan has a job done, None where it is not in it."""
    plan = latest_plan()
    told = plan.content["jobs"].get(number) if plan else None
    return axis_of(plan.content).moment(told["ends"]) if plan and told else None
