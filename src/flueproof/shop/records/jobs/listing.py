"""Lists of jobs, page by page, each page one short walk along an index however long the past is.

Sorted by the promised day, jobs without one last. A page begins after a key (day and id of the last job shown), so the
thousandth page costs what the first one does. Jobs without a promised day are a second walk, since the two databases
put empty days at opposite ends of an index.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any, Final

from django.db.models import Count, Exists, OuterRef, Q, QuerySet
from django.db.models.expressions import RawSQL

from flueproof.shop.records.models import Job, Person, Visit

CLOSED: Final = ("returned", "dropped")
_UNDATED: Final = "later"
# SQLite uses an index with a condition only where the query states it word for word, so not by parameters.
_CLOSED_IN_THE_INDEX: Final = [RawSQL("'returned'", ()), RawSQL("'dropped'", ())]


class PageKeyError(ValueError):
    """A page key that no page gave out."""


@dataclass(frozen=True, slots=True)
class JobFilter:
    """What is wanted: one state (empty = all open ones), and how the list is narrowed.

    Closed jobs are not narrowed: a filter that few of 500,000 rows pass would have to read them all.
    """

    state: str = ""
    rush: bool = False
    late_on: date | None = None
    mine: Person | None = None

    @property
    def newest_first(self) -> bool:
        """Return True for closed jobs: the latest promise stands on top."""
        return self.state in CLOSED


@dataclass(frozen=True, slots=True)
class JobPage:
    """One page of jobs, and the key of the next one (empty on the last)."""

    jobs: list[Job]
    next_key: str


def job_page(wanted: JobFilter, after: str = "", size: int = 30) -> JobPage:
    """Return the page after a key.

    Raises: PageKeyError.
    """
    undated, day, last = _read_key(after)
    found: list[Job] = []
    if not undated:
        found = list(_dated(wanted, day, last)[: size + 1])
    if len(found) <= size:
        found += list(_undated(wanted, last if undated else None)[: size + 1 - len(found)])
    page = found[:size]
    return JobPage(page, _key(page[-1]) if len(found) > size else "")


def open_counts() -> dict[str, int]:
    """Return how many jobs stand in each open state; states without any are there with 0."""
    rows = Job.objects.filter(state__in=Job.OPEN).order_by().values_list("state").annotate(jobs=Count("id"))
    return dict.fromkeys(Job.OPEN, 0) | dict(rows)


def _dated(wanted: JobFilter, day: date | None, last: int | None) -> QuerySet[Any]:
    rows = _narrowed(wanted).filter(promised_on__isnull=False)
    if wanted.newest_first:
        if day is not None:
            rows = rows.filter(promised_on__lte=day).filter(Q(promised_on__lt=day) | Q(id__lt=last))
        return rows.order_by("-promised_on", "-id")
    if day is not None:
        rows = rows.filter(promised_on__gte=day).filter(Q(promised_on__gt=day) | Q(id__gt=last))
    return rows.order_by("promised_on", "id")


def _undated(wanted: JobFilter, last: int | None) -> QuerySet[Any]:
    rows = _narrowed(wanted).filter(promised_on__isnull=True)
    if wanted.late_on is not None and not wanted.newest_first:
        return rows.none()
    if last is not None:
        rows = rows.filter(id__lt=last) if wanted.newest_first else rows.filter(id__gt=last)
    return rows.order_by("-id" if wanted.newest_first else "id")


def _narrowed(wanted: JobFilter) -> QuerySet[Any]:
    rows: QuerySet[Any] = Job.objects.select_related("owner", "analyzer")
    rows = rows.filter(state=wanted.state) if wanted.state else rows.exclude(state__in=_CLOSED_IN_THE_INDEX)
    if wanted.newest_first:
        return rows
    if wanted.rush:
        rows = rows.filter(rush=True)
    if wanted.late_on is not None:
        rows = rows.filter(promised_on__lt=wanted.late_on)
    if wanted.mine is not None:
        rows = rows.filter(Exists(Visit.objects.filter(job=OuterRef("pk"), opened_by=wanted.mine)))
    return rows


def _key(job: Job) -> str:
    return f"{job.promised_on.isoformat() if job.promised_on else _UNDATED}.{job.pk}"


def _read_key(text: str) -> tuple[bool, date | None, int | None]:
    if not text:
        return False, None, None
    day, _, number = text.partition(".")
    try:
        return (True, None, int(number)) if day == _UNDATED else (False, date.fromisoformat(day), int(number))
    except ValueError as error:
        raise PageKeyError(f"{text!r} is no place in this list; begin at its first page") from error
