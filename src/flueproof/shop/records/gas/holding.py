"""Jobs with bench work since the last good morning check: held when a check fails, and listed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from django.db.models import Exists, OuterRef, Q, QuerySet

from flueproof.shop.records.jobs.moving import MoveRefusedError, move_job
from flueproof.shop.records.models import BenchEvent, Job, MorningCheck, Person, Station
from flueproof.shop.records.visits.projection import STEP

WAITS_FOR: Final = "a second look at its tests, for a morning check failed"


@dataclass(frozen=True, slots=True)
class Doubtful:
    """Jobs tested since the last good check: open ones, which are held, and ones that already went back."""

    since: datetime | None
    open_jobs: list[Job]
    gone: list[Job]


def last_good(before: datetime, station: Station | None = None) -> MorningCheck | None:
    """Return the last check that passed before a time: of this bench or of all benches."""
    checks = MorningCheck.objects.filter(passed=True, at__lt=before)
    if station is not None:
        checks = checks.filter(Q(station=station) | Q(station=None))
    return checks.order_by("-at", "-id").first()


def doubtful_jobs(until: datetime, station: Station | None = None) -> Doubtful:
    """Return the jobs with a recorded step since the last good check.

    The last good check itself spoke for its own time, so steps after it count. Without any good check all open jobs
    with steps count, and of those that went back none: nothing is known of when it began.
    """
    good = last_good(until, station)
    open_jobs = _worked_on(good.at if good else None, until, station).filter(state__in=Job.OPEN)
    gone = _worked_on(good.at, until, station).filter(state="returned") if good else Job.objects.none()
    return Doubtful(good.at if good else None, list(open_jobs), list(gone))


def _worked_on(since: datetime | None, until: datetime, station: Station | None) -> QuerySet[Job]:
    steps = BenchEvent.objects.filter(visit__job=OuterRef("pk"), kind=STEP, at__lte=until)
    if since is not None:
        steps = steps.filter(at__gt=since)
    if station is not None:
        steps = steps.filter(Q(visit__station=station) | Q(visit__station=None))
    jobs: QuerySet[Job] = Job.objects.filter(Exists(steps)).select_related("owner", "analyzer").order_by("id")
    return jobs


def hold(jobs: list[Job], why: str, by: Person, now: datetime) -> list[str]:
    """Hold jobs, the reason kept with each; return the numbers of those that are on hold now.

    A job that stands where it cannot be held from is left where it is; it is listed all the same.
    """
    held = []
    for job in jobs:
        try:
            move_job(job, "held", by, now, why=why, waits_for=WAITS_FOR)
        except MoveRefusedError:
            continue
        held.append(job.number)
    return held
