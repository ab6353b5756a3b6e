"""Drafts of service requests: begun on the public page or by the counter, kept step by step until they are sent."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

from django.db import transaction

from flueproof.shop.records.intake.slips import new_request_code, new_slip
from flueproof.shop.records.models import Person, RequestedAnalyzer, ServiceRequest

WHO, ANALYZERS, WRONG, WANTED, BOX, CHECK = 1, 2, 3, 4, 5, 6
MOST_ANALYZERS: Final = 20


class RequestRefusedError(ValueError):
    """What cannot be done with a request as it stands now; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Missing:
    """Something without which a request is not sent: at which step, of which analyzer, in words."""

    step: int
    words: str
    analyzer: RequestedAnalyzer | None = None


def begin_draft(
    said: dict[str, Any],
    source: str,
    by: Person | None,
    now: datetime,
    *,
    empty: bool = False,
    draw: Callable[[int], int] = secrets.randbelow,
) -> ServiceRequest:
    """Return a new draft with one analyzer in it, still blank; with `empty` without any.

    said: field name -> value of who asks.
    """
    with transaction.atomic():
        request = ServiceRequest(code=new_request_code(draw), source=source, made_at=now, step=ANALYZERS, **said)
        save_by(request, by)
        if not empty:
            add_analyzer(request, {}, by, draw=draw)
    return request


def add_analyzer(
    request: ServiceRequest,
    said: dict[str, Any],
    by: Person | None,
    *,
    draw: Callable[[int], int] = secrets.randbelow,
) -> RequestedAnalyzer:
    """Return one more analyzer of a draft.

    Raises: RequestRefusedError where it was sent already or holds the most that one request can.
    """
    with transaction.atomic():
        row = ServiceRequest.objects.select_for_update().get(pk=request.pk)
        refuse_unless_draft(row)
        if row.analyzers.count() >= MOST_ANALYZERS:
            raise RequestRefusedError(
                f"One request holds at most {MOST_ANALYZERS} analyzers. Send this one, then begin another"
            )
        owner_rule = {"decision_rule": row.owner.decision_rule} if row.owner else {}
        requested = RequestedAnalyzer(**{"limits": "profile", **owner_rule, **said}, request=row, slip=new_slip(draw))
        save_by(requested, by)
    return requested


def take_off(requested: RequestedAnalyzer, by: Person | None) -> None:
    """Take an analyzer off a draft; one that is off already stays off.

    Raises: RequestRefusedError for the only one, or where the request was sent.
    """
    with transaction.atomic():
        row = ServiceRequest.objects.select_for_update().get(pk=requested.request_id)
        refuse_unless_draft(row)
        standing = row.analyzers.filter(pk=requested.pk).first()
        if standing is None:
            return
        if row.analyzers.count() == 1:
            raise RequestRefusedError("A request needs one analyzer at least. Change this one instead")
        standing._history_user = by  # noqa: SLF001 -- the documented way of simple_history
        standing.delete()


def came_to(request: ServiceRequest, step: int, by: Person | None) -> None:
    """Note how far the form was filled in; going back changes nothing."""
    with transaction.atomic():
        row = ServiceRequest.objects.select_for_update().get(pk=request.pk)
        if row.state == "draft" and row.step < step:
            row.step = step
            save_by(row, by)


def missing_in(request: ServiceRequest) -> list[Missing]:
    """Return what a request still needs before it is sent, in the order of the steps."""
    found: list[Missing] = []
    if not (request.firm.strip() or request.contact.strip()):
        found.append(Missing(WHO, "Your firm or your name"))
    if request.source == "page" and not request.email:
        found.append(Missing(WHO, "Your e-mail address: the request is confirmed by a link in it"))
    if request.source != "page" and not (request.email or request.phone):
        found.append(Missing(WHO, "A phone number or an e-mail address"))
    for one in request.analyzers.all():
        if not one.model.strip():
            found.append(Missing(ANALYZERS, "Model of the analyzer", one))
        if one.service == "repair" and one.spend_up_to is None:
            found.append(Missing(WANTED, f"Up to which sum {one} may be repaired, or choose “call first”", one))
    if not request.lines.strip() and not request.town.strip() and not request.carrier.strip():
        found.append(Missing(BOX, "Where it goes back to, or that it is collected"))
    return found


def refuse_unless_draft(request: ServiceRequest) -> None:
    """Raise RequestRefusedError when a request is no draft any more."""
    if request.state != "draft":
        said = dict(ServiceRequest.STATES)[request.state]
        raise RequestRefusedError(
            f"Request {request.code} is {said} and cannot be changed here any more. Ring the shop"
        )


def save_by(row: Any, by: Person | None) -> None:
    """Save a row with the person for its history; None where the owner did it on the public page."""
    row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
    row.save()
