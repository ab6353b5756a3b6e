"""Planning beside the pages: clocks that nobody started, days that move on while a clock stands, a better plan."""

from __future__ import annotations

import datetime as dt
import logging
import threading
from typing import Final

from django.db import close_old_connections
from django.utils import timezone

from flueproof.promise.schedule.model import PlanError
from flueproof.shop.records.models import Job, Plan, WorkingPattern
from flueproof.shop.records.promises.clock import keep_in_step
from flueproof.shop.records.promises.following import STOPS
from flueproof.shop.records.promises.from_moments import clock_from_moments, jobs_without_a_clock
from flueproof.shop.records.promises.planning import latest_plan, make_plan, state_key

EVERY_S: Final = 20.0
SECONDS: Final = 6.0
REST: Final = dt.timedelta(minutes=30)
"""A plan of its own is made so often at most, for each is kept. A first plan made by a person is bettered at once."""
_LOG = logging.getLogger(__name__)


def run_planner(stop: threading.Event) -> None:
    """Look every twenty seconds whether there is something to do, until told to stop; a failure is logged, no more."""
    while not stop.wait(EVERY_S):
        close_old_connections()
        try:
            look_after_clocks(timezone.now())
            plan_if_needed(timezone.now())
        except Exception:  # noqa: BLE001 -- whatever it was, the next turn may do better
            _LOG.exception("the plan could not be made beside the pages")
        finally:
            close_old_connections()


def look_after_clocks(now: dt.datetime) -> int:
    """Start the clocks of jobs from before there were any, move on the days of standing ones; return how many."""
    changed = 0
    for job in jobs_without_a_clock():
        changed += bool(clock_from_moments(job, now))
    for job in Job.objects.filter(state__in=STOPS):
        before = job.promised_on
        keep_in_step(job, now)
        changed += job.promised_on != before
    return changed


def plan_if_needed(now: dt.datetime, seconds: float = SECONDS) -> Plan | None:
    """Make a better plan where the last one was made at once, or something changed since it and it is not of just now.

    Returns the new plan, None where nothing was to be done: no people with hours, or nothing new.
    """
    if not WorkingPattern.objects.filter(planned=True).exists():
        return None
    last = latest_plan()
    if last is not None:
        same = last.state_key == state_key(now)
        if (same and last.found != "quick") or (not same and last.made_at > now - REST):
            return None
    try:
        return make_plan(now, None, "made beside the pages", seconds)
    except PlanError:
        return None
