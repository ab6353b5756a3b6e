"""Letters that did not arrive: kept with the job, never breaking it, and sent again when the address is right."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import transaction

from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.mailing.links import open_link
from flueproof.shop.records.mailing.seals import sealed_secrets
from flueproof.shop.records.mailing.writing import MOMENT, message_id
from flueproof.shop.records.models import Letter, Person, Shop

CAME_BACK, NOT_SENT = "letter came back", "letter not sent"
_TOO_LATE: Final = {
    "late": "its link is too old",
    "used": "its link was used already",
    "withdrawn": "its link was withdrawn",
    "unknown": "its link is not known any more",
}


class SendingRefusedError(ValueError):
    """A letter that is not sent again, or not marked; the message says why and what to do."""


def bounced(letter: Letter, words: str, by: Person | None, now: datetime) -> Letter:
    """Keep that a letter came back, with why, and a moment of its job; one that came back already stays as it is.

    by: the person who read the answer in the shop's mailbox, None when the mail server refused the address at once.
    """
    return _undelivered(letter, "bounced", CAME_BACK, words, by, now)


def not_sent(letter: Letter, words: str, now: datetime) -> Letter:
    """Keep that a letter cannot be sent, with why, and a moment of its job."""
    return _undelivered(letter, "failed", NOT_SENT, words, None, now)


def send_again(letter: Letter, to: str, by: Person, now: datetime) -> Letter:
    """Put the same words into the outbox once more, to an address that may be another one; return the new letter.

    Raises: SendingRefusedError for an address that is none, a letter that still waits, or one whose link is not good.
    """
    address = to.strip()
    try:
        validate_email(address)
    except ValidationError:
        raise SendingRefusedError(f"“{address[:80]}” is no e-mail address.") from None
    with transaction.atomic():
        row = Letter.objects.select_for_update(of=("self",)).select_related("job").get(pk=letter.pk)
        if row.state == "waiting":
            raise SendingRefusedError("It still waits to be sent; it is tried again by itself.")
        for secret in sealed_secrets(row.text):
            state = open_link(secret, now).state
            if state != "good":
                raise SendingRefusedError(f"It cannot go again: {_TOO_LATE[state]}. Write it anew from the job.")
        same = Letter.objects.filter(kind=row.kind, to=address, text=row.text, state="waiting").first()
        if same is not None:
            return same
        made = Letter.objects.create(
            kind=row.kind, to=address, subject=row.subject, text=row.text, html=row.html,
            job=row.job, request_id=row.request_id, owner_id=row.owner_id,
            made_at=now, made_by=by, next_try_at=now, message_id=message_id(Shop.here()),
        )  # fmt: skip
        if row.job is not None:
            note_moment(row.job, MOMENT, by, now, text=f"“{row.subject}” again, to {address}")
    return made


def _undelivered(letter: Letter, state: str, what: str, words: str, by: Person | None, now: datetime) -> Letter:
    with transaction.atomic():
        row = Letter.objects.select_for_update(of=("self",)).select_related("job").get(pk=letter.pk)
        if row.state == state:
            return row
        row.state, row.trouble, row.next_try_at = state, words.strip()[:500], None
        row.save(update_fields=["state", "trouble", "next_try_at"])
        if row.job is not None:
            note_moment(row.job, what, by, now, text=f"“{row.subject}” to {row.to}: {row.trouble}")
    return row
