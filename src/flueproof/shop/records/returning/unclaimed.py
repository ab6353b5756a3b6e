"""Boxes that nobody fetches: letters after the shop's days, then a place on the shelf and its list."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from django.db import transaction
from django.utils import timezone

from flueproof.shop.records.jobs.moving import MoveRefusedError, note_moment
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import Job, Person, Shop

LETTER, SHELF = "letter about the waiting box", "on the shelf"
CALLED: Final = "called about the waiting box"
LETTERS: Final = 3  # own choice, as is the fortnight between them
DAYS_BETWEEN: Final = 14


@dataclass(frozen=True, slots=True)
class Unclaimed:
    """A box that waits too long. since: when it was ready; letters: told so often; place: on the shelf, "" not yet;
    letter_due: the next letter may go out now.
    """

    job: Job
    since: datetime
    days: int
    letters: int
    last_told: datetime | None
    place: str
    letter_due: bool


def unclaimed(now: datetime, shop: Shop) -> list[Unclaimed]:
    """Return the boxes that are ready to go back longer than the shop waits, the longest first."""
    found = []
    rows = Job.objects.filter(state="to-return").select_related("owner", "analyzer").order_by("id")
    for job in rows:
        one = unclaimed_as(job, now, shop)
        if one is not None:
            found.append(one)
    return sorted(found, key=lambda one: (one.since, one.job.pk))


def unclaimed_as(job: Job, now: datetime, shop: Shop) -> Unclaimed | None:
    """Return how long a box waits and what was done about it, None while it is not too long."""
    since = ready_since(job)
    days = (timezone.localtime(now).date() - timezone.localtime(since).date()).days
    if job.state != "to-return" or days < shop.unclaimed_after_days:
        return None
    told = list(
        job.moments.filter(what__in=(LETTER, CALLED), at__gte=since).order_by("id").values_list("at", flat=True)
    )
    shelf = job.moments.filter(what=SHELF, at__gte=since).order_by("-id").first()
    last = told[-1] if told else None
    due = len(told) < LETTERS and (last is None or now - last >= timedelta(days=DAYS_BETWEEN))
    return Unclaimed(job, since, days, len(told), last, shelf.text if shelf is not None else "", due)


def ready_since(job: Job) -> datetime:
    """Return when the box became ready to go back (for the last time)."""
    last = (
        job.moments.filter(what="state", state_after="to-return").order_by("-id").values_list("at", flat=True).first()
    )
    return last or job.opened_at


def write_unclaimed(job: Job, by: Person | None, now: datetime, shop: Shop) -> bool:
    """Tell the owner by e-mail that the box waits; return whether a letter could go out. Too early changes nothing.

    Where there is no address nothing is counted: call, and note the call.
    """
    with transaction.atomic():
        row: Job = Job.objects.select_for_update().select_related("owner", "analyzer").get(pk=job.pk)
        found = unclaimed_as(row, now, shop)
        if found is None or not found.letter_due:
            return False
        letter = write_letter("unclaimed", job=row, by=by, now=now)
        if letter is None:
            return False
        note_moment(row, LETTER, by, now, text=f"letter {found.letters + 1} of {LETTERS} to {letter.to}")
    return True


def write_all_unclaimed(by: Person | None, now: datetime, shop: Shop) -> int:
    """Write every letter that is due; return how many went out."""
    return sum(write_unclaimed(one.job, by, now, shop) for one in unclaimed(now, shop) if one.letter_due)


def note_call(job: Job, words: str, by: Person, now: datetime) -> None:
    """Keep that somebody called about the waiting box; it counts as a letter. Raises: MoveRefusedError."""
    if not words.strip():
        raise MoveRefusedError("Say who was reached and what was said")
    with transaction.atomic():
        row: Job = Job.objects.select_for_update().get(pk=job.pk)
        last = row.moments.order_by("-id").first()
        if last is None or (last.what, last.text) != (CALLED, words.strip()):
            note_moment(row, CALLED, by, now, text=words.strip())


def put_on_shelf(job: Job, place: str, by: Person, now: datetime) -> None:
    """Keep where an unclaimed box stands; there already changes nothing. What becomes of it later is law, not ours.

    Raises: MoveRefusedError.
    """
    if not place.strip():
        raise MoveRefusedError("Say where it stands, so that it is found")
    with transaction.atomic():
        row: Job = Job.objects.select_for_update().get(pk=job.pk)
        if row.state != "to-return":
            raise MoveRefusedError(
                f"{row.number} is {row.get_state_display()!r}; only a box that is to go back waits so"
            )
        last = row.moments.filter(what=SHELF).order_by("-id").first()
        if last is None or last.text != place.strip():
            note_moment(row, SHELF, by, now, text=place.strip()[:200])
