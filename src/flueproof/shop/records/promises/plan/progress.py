"""How far the jobs on the bench are, from what is written down there: which step of the plan is next, what runs now."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from flueproof.shop.records.models import Application, BenchEvent, Job
from flueproof.shop.records.promises.plan.steps import OF_SERVICE, step_of_record
from flueproof.shop.records.visits.projection import STEP


@dataclass(frozen=True, slots=True)
class Running:
    """A step that runs now: which, since when, who began it (username), where ("" unknown)."""

    step: str
    since: dt.datetime
    who: str
    where: str


@dataclass(slots=True)
class Progress:
    """How far one job is: the steps of the plan of which something is written down, and what runs now."""

    seen: set[str] = field(default_factory=set)
    running: Running | None = None


def progress_of(jobs: Iterable[Job]) -> Mapping[int, Progress]:
    """Return the progress of the jobs that are on the bench, by their key; the others have none."""
    keys = [job.pk for job in jobs if job.state == "bench"]
    found = {key: Progress() for key in keys}
    written = BenchEvent.objects.filter(visit__job__in=keys, kind=STEP).values_list("visit__job_id", "body")
    for key, body in written.iterator():
        told = json.loads(body)
        found[key].seen.add(step_of_record(str(told.get("kind")), str(told.get("phase", ""))))
    running = Application.objects.filter(visit__job__in=keys, ended_at=None).select_related(
        "visit__station", "began_by"
    )
    for row in running:
        step = step_of_record(str(row.plan.get("kind")), str(row.plan.get("phase", "")))
        station = row.visit.station.name if row.visit.station else ""
        found[row.visit.job_id].running = Running(step, row.began_at, row.began_by.username, station)
    return found


def finished_steps(service: str, state: str, progress: Progress | None) -> int:
    """Return how many of the first steps of a service are done; the last one that was begun counts as still open."""
    steps = OF_SERVICE[service]
    if state == "to-sign":
        return steps.index("sign")
    if state == "parts":
        return steps.index("repair") if "repair" in steps else 0
    seen = [which for which, name in enumerate(steps) if progress is not None and name in progress.seen]
    return max(seen, default=0)
