"""A box that is taken in at its job: it has a row on the counter as every other box, and the same clock."""

from __future__ import annotations

from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from flueproof.shop.records.intake.arrivals import ArrivalRefusedError, enter_box
from flueproof.shop.records.intake.condition import Found, note_found
from flueproof.shop.records.intake.taking import ReportedMissingError, take_job
from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.models import Arrival, Job, Person
from flueproof.shop.records.promises.calendar import shop_calendar


def take_in(job: Job, found: Found | None, by: Person, now: datetime, *, came_on: date | None = None) -> Job:
    """Take in the box of a job that waits for it; of a job whose analyzer is here already nothing changes.

    found: what is in the box and how it looks, None where nobody looked yet; came_on: the day on which it came, where
    that is not today: the clock counts from that morning.
    Raises: MoveRefusedError (reported lost or stolen, or the job waits for no box), with nothing written.
    """
    try:
        with transaction.atomic():
            row: Job = Job.objects.select_for_update(of=("self",)).select_related("analyzer").get(pk=job.pk)
            if row.state != "requested":
                return _here_already(row)
            arrival = take_job(enter_box(by, _came_at(came_on, now)), row, by, now).arrival
            if found is not None:
                note_found(arrival, found, by, now)
    except ReportedMissingError as error:
        raise MoveRefusedError(
            f"{error}. Take the box in under Boxes: there it is kept aside, and its owner on file is called"
        ) from error
    except ArrivalRefusedError as error:
        raise MoveRefusedError(str(error)) from error
    taken: Job = Job.objects.select_related("owner", "analyzer").get(pk=job.pk)
    return taken


def box_of(job: Job) -> Arrival | None:
    """Return the box in which a job's analyzer came, the first of several; None before it is here."""
    return job.arrivals.filter(state="known").order_by("id").first()


def _came_at(day: date | None, now: datetime) -> datetime:
    """Return the moment of coming: of an earlier day its morning, as the promise clock takes it."""
    if day is None or day >= timezone.localdate(now):
        return now
    return shop_calendar().opening_moment(day)


def _here_already(job: Job) -> Job:
    if not job.is_open:
        raise MoveRefusedError(f"{job.number} is {job.get_state_display()}; open a new job for this box")
    return job
