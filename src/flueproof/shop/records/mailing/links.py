"""Links that answer without an account: secret, expiring, used once where a use decides something."""

from __future__ import annotations

import hmac
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from django.conf import settings
from django.db.models import Q
from django.urls import reverse

from flueproof.shop.records.mailing.seals import hash_of, new_secret
from flueproof.shop.records.models import AnswerLink, Job, OwnerQuestion, Quote, ServiceRequest, Shop

LONGEST_SECRET: Final = 80
_PAGES: Final = {"confirm": "requests:confirm", "resume": "requests:resume"}
_PAGE: Final = "mail:answer"


@dataclass(frozen=True, slots=True)
class Opened:
    """What a secret opens: the link, None when it is not known; state: good, used, late, withdrawn or unknown."""

    link: AnswerLink | None
    state: str


def make_link(
    purpose: str,
    *,
    request: ServiceRequest | None = None,
    question: OwnerQuestion | None = None,
    quote: Quote | None = None,
    job: Job | None = None,
    now: datetime,
    days: int,
) -> tuple[AnswerLink, str]:
    """Return a new link and its whole address, which nobody can read again: only a hash of the secret is kept.

    days: how many days from now it is good. The address has no host while the shop has no public address.
    Raises: KeyError for a purpose that is not in AnswerLink.PURPOSES.
    """
    if purpose not in dict(AnswerLink.PURPOSES):
        raise KeyError(purpose)
    secret = new_secret()
    link = AnswerLink.objects.create(
        purpose=purpose,
        secret_sha256=hash_of(secret),
        request=request,
        question=question,
        quote=quote,
        job=job,
        made_at=now,
        expires_at=now + timedelta(days=days),
    )
    return link, public_base() + _path(purpose, secret)


def public_base() -> str:
    """Return how owners reach these pages, "https://bench.example", empty when the shop has not said so."""
    return str(settings.DEMO_ADDRESS) or Shop.here().public_address.rstrip("/")


def open_link(secret: str, now: datetime) -> Opened:
    """Return what a secret opens now. Looking changes nothing: mail scanners open every link.

    The search is by the hash, so that its time tells nothing about secrets that exist.
    """
    wanted = hash_of(secret[:LONGEST_SECRET])
    rows = AnswerLink.objects.select_related("request", "question__job", "quote__job", "job")
    link = rows.filter(secret_sha256=wanted).first()
    if link is None or not hmac.compare_digest(link.secret_sha256, wanted):
        return Opened(None, "unknown")
    return Opened(link, state_of(link, now))


def state_of(link: AnswerLink, now: datetime) -> str:
    """Return good, used, late or withdrawn; a link that was used says so also when it is late."""
    if link.used_at is not None:
        return "used"
    if link.withdrawn_at is not None:
        return "withdrawn"
    return "late" if now >= link.expires_at else "good"


def use_link(link: AnswerLink, now: datetime) -> bool:
    """Use a link up and return True; False when it is not good, also when another one used it a moment ago.

    Call it in the transaction of what the use decides: of two at the same time the database lets one through, and the
    other waits for it and is told.
    """
    good = Q(pk=link.pk, used_at=None, withdrawn_at=None, expires_at__gt=now)
    if not AnswerLink.objects.filter(good).update(used_at=now):
        return False
    link.used_at = now
    return True


def withdraw_links(now: datetime, **whose: OwnerQuestion | Quote | Job | ServiceRequest) -> int:
    """Withdraw the links of a question, quote, job or request that are not used yet; return how many."""
    return AnswerLink.objects.filter(used_at=None, withdrawn_at=None, **whose).update(withdrawn_at=now)


def _path(purpose: str, secret: str) -> str:
    return reverse(_PAGES.get(purpose, _PAGE), args=[secret])
