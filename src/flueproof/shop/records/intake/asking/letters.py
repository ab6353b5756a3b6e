"""E-mails and links of requests: confirm, go on with a draft, received; a few an hour for each request, not many."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Final

from flueproof.shop.records.intake.asking.drafts import RequestRefusedError
from flueproof.shop.records.mailing.links import make_link, withdraw_links
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import AnswerLink, Letter, Person, ServiceRequest

DRAFT_DAYS: Final = 30
CONFIRM_DAYS: Final = 7
_MOST_AN_HOUR: Final = 3
_MOST_TO_ONE: Final = 6
_ASKED_FOR: Final = ("draft-link", "confirm-request")
# Until an address is confirmed nothing that a stranger typed goes to it: nobody mails their own words through us.
_NOBODY_S_WORDS: Final = {"person": "there", "owner": ""}

Absolute = Callable[[str], str]
"""Makes an address without a host whole: how the asker reached these pages."""


def draft_secret(request: ServiceRequest, now: datetime) -> str:
    """Return the secret of a new link that goes on with a draft; it is in the address of every step."""
    _, address = make_link("resume", request=request, now=now, days=DRAFT_DAYS)
    return address.rstrip("/").rpartition("/")[2]


def mail_draft_link(request: ServiceRequest, address: str, now: datetime) -> Letter | None:
    """Send the address of a draft to its owner, so that it can go on anywhere.

    Raises: RequestRefusedError without an e-mail address, or when that was asked for very often.
    """
    if not request.email:
        raise RequestRefusedError("Give your e-mail address first; the link goes there")
    _refuse_often(request, "draft-link", now, None)
    return write_letter("draft-link", request=request, now=now, extra={"link": address, **_NOBODY_S_WORDS})


def ask_to_confirm(
    request: ServiceRequest, absolute: Absolute, now: datetime, by: Person | None = None
) -> Letter | None:
    """Send the link that confirms a request; those sent before are good no more.

    Raises: RequestRefusedError for a request that waits for nothing, or when that was asked for very often.
    """
    if request.state != "unconfirmed":
        said = dict(ServiceRequest.STATES)[request.state]
        raise RequestRefusedError(f"Request {request.code} is {said}; there is nothing to confirm")
    _refuse_often(request, "confirm-request", now, by)
    earlier = AnswerLink.objects.filter(request=request, purpose="confirm", used_at=None, withdrawn_at=None)
    earlier.update(withdrawn_at=now)
    _, address = make_link("confirm", request=request, now=now, days=CONFIRM_DAYS)
    count = request.analyzers.count()
    counted = f"- {count} {'analyzer' if count == 1 else 'analyzers'}"
    extra = {"link": absolute(address), "analyzers": counted, **_NOBODY_S_WORDS}
    return write_letter("confirm-request", request=request, by=by, now=now, extra=extra)


def tell_received(request: ServiceRequest, now: datetime, by: Person | None = None) -> Letter | None:
    """Tell the owner that the request is taken, with the codes of its slips; nothing without an address."""
    return write_letter("request-received", request=request, by=by, now=now)


def close_links(request: ServiceRequest, now: datetime) -> int:
    """Withdraw all links of a request that was withdrawn; return how many."""
    return withdraw_links(now, request=request)


def _refuse_often(request: ServiceRequest, kind: str, now: datetime, by: Person | None) -> None:
    """Refuse a few too many for one request; for strangers also to one address: nobody is flooded through us."""
    within = Letter.objects.filter(made_at__gt=now - timedelta(hours=1))
    lately = within.filter(request=request, kind=kind).count()
    to_one = 0 if by is not None else within.filter(to__iexact=request.email, kind__in=_ASKED_FOR).count()
    if lately >= _MOST_AN_HOUR or to_one >= _MOST_TO_ONE:
        raise RequestRefusedError(
            f"{max(lately, to_one)} such e-mails went out within the hour. Look into the folder for unwanted mail, or "
            "ring us"
        )
