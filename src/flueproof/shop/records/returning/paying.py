"""Boxes that go back only when they are paid: held, and that the money came. No books: one word with who and when."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from django.db import transaction

from flueproof.shop.records.jobs.moving import MoveRefusedError, note_moment
from flueproof.shop.records.models import Job, Person
from flueproof.shop.records.promises.following import follow_payment

PAID, HELD_FOR_MONEY = "paid", "held until paid"
_LAST: Final = (PAID, HELD_FOR_MONEY)


def waits_for_money(job: Job) -> bool:
    """Return whether the box may not leave before it is paid: the job or its owner is held so, and nobody noted it."""
    if not (job.payment_held or job.owner.pays_first):
        return False
    last = job.moments.filter(what__in=_LAST).order_by("-id").first()
    return last is None or last.what != PAID


def hold_for_money(job: Job, why: str, by: Person, now: datetime) -> Job:
    """Let this box go back only when it is paid; held already changes nothing. Raises: MoveRefusedError."""
    with transaction.atomic():
        row: Job = Job.objects.select_for_update().select_related("owner").get(pk=job.pk)
        if waits_for_money(row):
            return row
        if not row.is_open or row.state == "shipped":
            raise MoveRefusedError(f"{row.number} is {row.get_state_display()!r}; there is no box to hold")
        row.payment_held = True
        _save(row, by)
        note_moment(row, HELD_FOR_MONEY, by, now, text=why.strip())
        follow_payment(row, by, now)
    return row


def note_paid(job: Job, words: str, by: Person, now: datetime) -> Job:
    """Keep that the money came, how or with which number; noted already changes nothing. Raises: MoveRefusedError."""
    if not words.strip():
        raise MoveRefusedError("Say how it was paid, such as the number of the payment: it is kept with the job")
    with transaction.atomic():
        row: Job = Job.objects.select_for_update().select_related("owner").get(pk=job.pk)
        if waits_for_money(row):
            note_moment(row, PAID, by, now, text=words.strip())
            if row.payment_held:
                row.payment_held = False
                _save(row, by)
            follow_payment(row, by, now)
    return row


def _save(row: Job, by: Person) -> None:
    row._history_user = by  # type: ignore[attr-defined] # noqa: SLF001 -- the documented way of simple_history
    row.save()
