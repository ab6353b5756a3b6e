"""Service requests: list, one, keep a new one, confirm, withdraw, open its jobs."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from typing import Annotated, Any

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from ninja import Query, Router

from flueproof.shop.api.answers import ApiError, answers, missing
from flueproof.shop.api.changing import checked
from flueproof.shop.api.once import once
from flueproof.shop.api.paging import Paging, page_of
from flueproof.shop.api.shapes.service_request import (
    BecameListOut,
    JobsWanted,
    RequestedNew,
    RequestNew,
    RequestOut,
    RequestsOut,
    RequestState,
    Withdrawal,
    became_out,
    request_out,
)
from flueproof.shop.api.token_door import BearerToken, person_on
from flueproof.shop.records.intake.asking.drafts import RequestRefusedError, add_analyzer, begin_draft
from flueproof.shop.records.intake.asking.letters import ask_to_confirm, close_links, tell_received
from flueproof.shop.records.intake.asking.limits import own_limits
from flueproof.shop.records.intake.asking.on_file import owner_now
from flueproof.shop.records.intake.requests import confirm_request, jobs_of, send_request, withdraw_request
from flueproof.shop.records.models import Owner, Person, ServiceRequest

router = Router(tags=["service requests"])


@router.get("", response=answers(RequestsOut), auth=BearerToken("see-jobs"))
def list_requests(
    request: HttpRequest,  # noqa: ARG001 -- ninja passes it
    paging: Paging,
    state: Annotated[RequestState | None, Query()] = None,
    owner: Annotated[int | None, Query(ge=1, lt=2**63)] = None,
    serial: Annotated[str | None, Query(max_length=60)] = None,
) -> RequestsOut:
    """List service requests, the newest first; `serial` is that of one of its analyzers."""
    filters = {"state": state, "owner_id": owner, "analyzers__serial__iexact": serial}
    rows = _rows().filter(**{name: value for name, value in filters.items() if value is not None})
    page, after = page_of(rows.distinct() if serial is not None else rows, paging, newest_first=True)
    return RequestsOut(rows=[request_out(row) for row in page], next=after)


@router.post("", response=answers(RequestOut, 201), auth=BearerToken("change-jobs"))
def keep_request(request: HttpRequest, body: RequestNew) -> HttpResponse:
    """Keep a request; it is confirmed at once where the sender vouches for it, else by the owner's own e-mail."""

    def absolute(path: str) -> str:
        return path if "://" in path else request.build_absolute_uri(path)

    return once(request, 201, lambda: request_out(_kept(body, absolute, person_on(request), timezone.now())))


@router.get("/{code}", response=answers(RequestOut), auth=BearerToken("see-jobs"))
def one_request(request: HttpRequest, code: str) -> RequestOut:  # noqa: ARG001 -- ninja passes it
    """Return one service request."""
    return request_out(_request(code))


@router.post("/{code}/confirm", response=answers(RequestOut), auth=BearerToken("change-jobs"))
def confirm_one_request(request: HttpRequest, code: str) -> HttpResponse:
    """Confirm a request, because its owner confirmed it to the sender; confirmed before stays as it is."""
    row, by, now = _request(code), person_on(request), timezone.now()
    return once(request, 200, lambda: request_out(_confirmed(row, by, now)))


@router.post("/{code}/withdraw", response=answers(RequestOut), auth=BearerToken("change-jobs"))
def withdraw_one_request(request: HttpRequest, code: str, body: Withdrawal) -> HttpResponse:
    """Withdraw a request that is no job yet, with the reason; its links open nothing any more."""
    row, by, now = _request(code), person_on(request), timezone.now()
    return once(request, 200, lambda: request_out(_withdrawn(row, body.why, by, now)))


@router.post("/{code}/jobs", response=answers(BecameListOut), auth=BearerToken("change-jobs"))
def open_jobs_of_request(request: HttpRequest, code: str, body: JobsWanted) -> HttpResponse:
    """Open a job for each analyzer of a confirmed request that is on file; the others wait for their box."""
    row, by, now = _request(code), person_on(request), timezone.now()
    return once(request, 200, lambda: _opened(row, body, by, now))


def _kept(body: RequestNew, absolute: Any, by: Person, now: datetime) -> ServiceRequest:
    owner = _owner(body.owner)
    if not body.confirmed and not body.email:
        raise ApiError(422, "Without an e-mail address nobody can confirm it.", "Give one, or vouch for it.", "email")
    said = body.model_dump(exclude={"analyzers", "confirmed", "owner"})
    said["firm"] = said["firm"] or (owner.name if owner else "")
    with transaction.atomic():
        row = begin_draft({**said, "owner": owner}, "counter", by, now, empty=True)
        checked(row)
        for one in body.analyzers:
            checked(add_analyzer(row, _said_of(one), by))
        try:
            if body.confirmed:
                return _confirmed(row, by, now)
            sent = send_request(row, now, by)
            ask_to_confirm(sent, absolute, now, by)
        except RequestRefusedError as error:
            raise ApiError(422, f"{error}.", "Complete it, and send it again.") from error
    return _request(sent.code)


def _said_of(one: RequestedNew) -> dict[str, Any]:
    said = one.model_dump(exclude={"limits", "decision_rule"})
    if one.decision_rule is not None:
        said["decision_rule"] = one.decision_rule
    own = one.limits
    said["limits"] = own_limits(own.co_ppm, own.co_percent, own.o2) if own is not None else "profile"
    return said


def _confirmed(row: ServiceRequest, by: Person, now: datetime) -> ServiceRequest:
    fresh = row.state in {"draft", "unconfirmed"}
    with _or_conflict(row):
        done = confirm_request(row, now, by)
        if fresh:
            tell_received(done, now, by)
    return _request(row.code)


def _withdrawn(row: ServiceRequest, why: str, by: Person, now: datetime) -> ServiceRequest:
    with _or_conflict(row):
        withdraw_request(row, why, by)
        close_links(row, now)
    return _request(row.code)


def _opened(row: ServiceRequest, body: JobsWanted, by: Person, now: datetime) -> BecameListOut:
    slips = {one.slip: one.pk for one in row.analyzers.all()}
    if strange := [slip for slip in body.add if slip not in slips]:
        raise ApiError(422, f"{row.code} has no box slip {strange[0]}.", "Read the request again.", "add")
    with _or_conflict(row):
        became = jobs_of(row, _owner(body.owner), by, now, add_new=[slips[slip] for slip in body.add])
    return became_out(became)


@contextmanager
def _or_conflict(row: ServiceRequest) -> Iterator[None]:
    """Turn a refusal of the service into 409 with the request as it stands."""
    try:
        with transaction.atomic():
            yield
    except RequestRefusedError as error:
        stands = request_out(_request(row.code)).model_dump(mode="json")
        raise ApiError(409, f"{error}.", "Look at `current`.", "", stands) from error


def _rows() -> Any:
    return ServiceRequest.objects.prefetch_related("analyzers__job")


def _request(code: str) -> ServiceRequest:
    row: ServiceRequest | None = _rows().filter(code=code.replace("\0", "")).first()
    if row is None:
        raise missing("service request", code)
    return row


def _owner(key: int | None) -> Owner | None:
    if key is None:
        return None
    row: Owner | None = Owner.objects.select_related("merged_into").filter(pk=key).first()
    if row is None:
        raise ApiError(422, f"There is no owner {key}.", "Add the owner first, or leave it out.", "owner")
    return owner_now(row)
