"""An analyzer that is here again soon after it left: linked to its first stay, and counted against first-pass yield."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from math import sqrt
from typing import Final

from django.db import transaction
from django.utils import timezone

from flueproof.shop.records.jobs.moving import MoveRefusedError, note_moment
from flueproof.shop.records.models import Job, Person, Shop

LINKED, NOT_ONE = "comeback", "no comeback"
_Z95: Final = 1.959964


@dataclass(frozen=True, slots=True)
class FirstPass:
    """Jobs that were returned in a span of time, and those of them that came back.

    share [-] with its 95 % interval low..high; None without a job. still_open: returned so lately that they may
    yet come back; they count as good until they do.
    """

    first: date
    last: date
    returned: int
    came_back: list[tuple[Job, Job]]
    share: float | None
    low: float | None
    high: float | None
    still_open: int


def comeback_days() -> int:
    """Return within how many days of its last stay an analyzer counts as come back [d]; the shop's own setting.

    60 as shipped, own choice: what comes back later is more likely a new fault.
    """
    return int(Shop.here().comeback_days)


def first_stay_of(job: Job) -> Job | None:
    """Return the job that this one may be a comeback of: the analyzer's last stay, returned shortly before.

    None where it is linked, where somebody said that it is none, or where none is near enough.
    """
    if job.first_job_id is not None or job.moments.filter(what=NOT_ONE).exists():
        return None
    since = job.opened_at - timedelta(days=comeback_days())
    rows = Job.objects.filter(analyzer_id=job.analyzer_id, state="returned", id__lt=job.pk, closed_at__gte=since)
    found: Job | None = rows.filter(closed_at__lte=job.opened_at).order_by("-closed_at", "-id").first()
    return found


def link_comeback(job: Job, first: Job, by: Person, now: datetime) -> Job:
    """Link a stay to the one that did not last; linked so already changes nothing.

    Raises: MoveRefusedError for another analyzer's job, a later one, or one that is open.
    """
    with transaction.atomic():
        row: Job = Job.objects.select_for_update().get(pk=job.pk)
        if row.first_job_id == first.pk:
            return row
        if row.first_job_id is not None:
            raise MoveRefusedError(f"{row.number} is linked to {row.first_job} already")
        if first.analyzer_id != row.analyzer_id or first.pk >= row.pk or first.state != "returned":
            raise MoveRefusedError(f"{first.number} is no earlier finished stay of this analyzer")
        row.first_job = first
        row._history_user = by  # type: ignore[attr-defined] # noqa: SLF001 -- the documented way of simple_history
        row.save()
        note_moment(row, LINKED, by, now, text=f"came back after {first.number}")
        note_moment(first, LINKED, by, now, text=f"came back with {row.number}")
    return row


def no_comeback(job: Job, why: str, by: Person, now: datetime) -> None:
    """Keep that a stay has nothing to do with the one before; it is not offered again. Raises: MoveRefusedError."""
    if not why.strip():
        raise MoveRefusedError("Say why it is no comeback: it makes the figure better")
    with transaction.atomic():
        row: Job = Job.objects.select_for_update().get(pk=job.pk)
        if not row.moments.filter(what=NOT_ONE).exists():
            note_moment(row, NOT_ONE, by, now, text=why.strip())


def first_pass(first: date, last: date, now: datetime) -> FirstPass:
    """Return the first-pass yield of the jobs that were returned from the first day to the last.

    Source of the interval: Wilson 1927, score interval (from memory).
    """
    zone = timezone.get_current_timezone()
    begin = datetime.combine(first, time.min, tzinfo=zone)
    end = datetime.combine(last + timedelta(days=1), time.min, tzinfo=zone)
    done = Job.objects.filter(state="returned", closed_at__gte=begin, closed_at__lt=end)
    count = done.count()
    back = Job.objects.filter(first_job__in=done).select_related("first_job", "analyzer", "owner").order_by("id")
    pairs = [(one.first_job, one) for one in back if one.first_job is not None]
    bad = len({one.pk for one, _ in pairs})
    low, high = wilson(count - bad, count)
    open_still = done.filter(closed_at__gt=now - timedelta(days=comeback_days())).count()
    return FirstPass(first, last, count, pairs, (count - bad) / count if count else None, low, high, open_still)


def wilson(good: int, count: int) -> tuple[float | None, float | None]:
    """Return the 95 % score interval of a share, (None, None) without a count."""
    if count == 0:
        return None, None
    share, z2 = good / count, _Z95**2
    middle = (share + z2 / (2 * count)) / (1 + z2 / count)
    half = _Z95 * sqrt(share * (1 - share) / count + z2 / (4 * count * count)) / (1 + z2 / count)
    return max(middle - half, 0.0), min(middle + half, 1.0)
