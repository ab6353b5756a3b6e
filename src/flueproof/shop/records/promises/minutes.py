"""How long the steps of a job took, from when they were written down at the bench.

A step took the working time since the entry before it in the same record, or since the person's own last entry in
another one, if that came later: what they did meanwhile was not done here. While readings ran, that was waiting; the
rest was hands. Our own choice; no source.
"""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterable
from typing import Any, Final

from django.db import transaction

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.calendar.working_time import minutes_between
from flueproof.shop.records.models import BenchEvent, Job, StepTime
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.plan.steps import step_of_record
from flueproof.shop.records.visits.projection import STEP

_LONGEST_MIN: Final = 240.0
"""A step that took longer was not worked on: lunch, a night, a call. It teaches nothing [min]."""


def keep_minutes(job: Job) -> list[StepTime]:
    """Keep the minutes of what was done at the bench since the last time they were kept, and return the new rows."""
    with transaction.atomic():
        Job.objects.select_for_update().get(pk=job.pk)
        last = job.step_times.order_by("-ended_at").values_list("ended_at", flat=True).first()
        events = list(BenchEvent.objects.filter(visit__job=job, kind=STEP).select_related("visit").order_by("at", "id"))
        found: dict[str, dict[str, Any]] = {}
        for which, event in enumerate(events):
            if last is not None and event.at <= last:
                continue
            before = events[which - 1].at if which else event.visit.opened_at
            _add(found, event, before, shop_calendar())
        return [StepTime.objects.create(job=job, step=step, **told) for step, told in found.items()]


def _add(found: dict[str, dict[str, Any]], event: BenchEvent, before: dt.datetime, calendar: ShopCalendar) -> None:
    """Add what one entry took to its step; an entry that nobody can have worked on so long adds nothing."""
    told = json.loads(event.body)
    took = max(0.0, minutes_between(calendar, before, event.at))
    if took > _LONGEST_MIN:
        return
    own = minutes_between(calendar, max(before, _last_elsewhere(event, before)), event.at)
    waiting = min(_reading_minutes(told.get("readings", ())), max(own, 0.0))
    step = step_of_record(str(told.get("kind")), str(told.get("phase", "")))
    row = found.setdefault(step, {"hands_on_min": 0.0, "waiting_min": 0.0, "by": event.by, "ended_at": event.at})
    row["hands_on_min"] += max(own, 0.0) - waiting
    row["waiting_min"] += waiting
    row["by"], row["ended_at"] = event.by, max(row["ended_at"], event.at)


def _last_elsewhere(event: BenchEvent, since: dt.datetime) -> dt.datetime:
    """Return when the person last wrote something into another record since then."""
    elsewhere = BenchEvent.objects.filter(by=event.by, kind=STEP, at__gt=since, at__lt=event.at)
    last: dt.datetime | None = (
        elsewhere.exclude(visit=event.visit_id).order_by("-at").values_list("at", flat=True).first()
    )
    return last or since


def _reading_minutes(readings: Iterable[Any]) -> float:
    """Return the minutes that the readings of a step ran."""
    seconds = [float(t) for one in readings if isinstance(one, dict) for t in one.get("t_s") or ()]
    return max(seconds, default=0.0) / 60
