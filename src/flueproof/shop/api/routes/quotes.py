"""Quotes: list, one, write, send, and keep what the owner said."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Annotated, Any

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from ninja import Query, Router

from flueproof.shop.api.answers import ApiError, answers, missing
from flueproof.shop.api.once import once
from flueproof.shop.api.paging import Paging, page_of
from flueproof.shop.api.routes.jobs import job_named
from flueproof.shop.api.shapes.quote import (
    QuoteDecision,
    QuoteLineNew,
    QuoteNew,
    QuoteOut,
    QuotesOut,
    QuoteState,
    quote_out,
)
from flueproof.shop.api.token_door import BearerToken, person_on
from flueproof.shop.records.models import Job, Person, PriceItem, Quote
from flueproof.shop.records.money.quotes import approve, decline, send_quote
from flueproof.shop.records.money.quoting import QuoteError, Wanted, write_quote

router = Router(tags=["quotes"])


@router.get("/quotes", response=answers(QuotesOut), auth=BearerToken("see-jobs"))
def list_quotes(
    request: HttpRequest,  # noqa: ARG001 -- ninja passes it
    paging: Paging,
    state: Annotated[QuoteState | None, Query()] = None,
    job: Annotated[str | None, Query(max_length=20)] = None,
    owner: Annotated[int | None, Query(ge=1, lt=2**63)] = None,
) -> QuotesOut:
    """List quotes, the newest first."""
    filters = {"state": state, "job__number": job, "job__owner_id": owner}
    rows = _rows().filter(**{name: value for name, value in filters.items() if value is not None})
    page, after = page_of(rows, paging, newest_first=True)
    return QuotesOut(rows=[quote_out(row) for row in page], next=after)


@router.post("/jobs/{number}/quotes", response=answers(QuoteOut, 201), auth=BearerToken("quote"))
def write_one_quote(request: HttpRequest, number: str, body: QuoteNew) -> HttpResponse:
    """Write a quote for an open job; with `send` it goes out and the job waits for the answer."""
    job = job_named(number)
    return once(request, 201, lambda: quote_out(_written(job, body, person_on(request), timezone.now())))


@router.get("/quotes/{number}", response=answers(QuoteOut), auth=BearerToken("see-jobs"))
def one_quote(request: HttpRequest, number: str) -> QuoteOut:  # noqa: ARG001 -- ninja passes it
    """Return one quote."""
    return quote_out(_quote(number))


@router.post("/quotes/{number}/send", response=answers(QuoteOut), auth=BearerToken("quote"))
def send_one_quote(request: HttpRequest, number: str) -> HttpResponse:
    """Send a draft to its owner and hold the job until it is answered; a sent one stays as it is."""
    row = _quote(number)
    return once(request, 200, lambda: _done(row, lambda: send_quote(row, person_on(request), timezone.now())))


@router.post("/quotes/{number}/approve", response=answers(QuoteOut), auth=BearerToken("quote"))
def approve_one_quote(request: HttpRequest, number: str, body: QuoteDecision) -> HttpResponse:
    """Keep that the owner approved it, as told to the shop; the job goes on."""
    return once(request, 200, lambda: _decided(request, _quote(number), body, approve))


@router.post("/quotes/{number}/decline", response=answers(QuoteOut), auth=BearerToken("quote"))
def decline_one_quote(request: HttpRequest, number: str, body: QuoteDecision) -> HttpResponse:
    """Keep that the owner declined it, as told to the shop."""
    return once(request, 200, lambda: _decided(request, _quote(number), body, decline))


def _written(job: Job, body: QuoteNew, by: Person, now: datetime) -> Quote:
    lines = [_line(place, line) for place, line in enumerate(body.lines)]
    try:
        with transaction.atomic():
            row = write_quote(job, lines, body.words, by, now)
            if body.send:
                row = send_quote(row, by, now)
    except QuoteError as error:
        status = 422 if job.is_open else 409
        raise ApiError(status, str(error), "Correct the quote, and send it again.") from error
    return _quote(row.number)


def _line(place: int, line: QuoteLineNew) -> Wanted:
    item = None
    if line.item:
        item = PriceItem.objects.filter(code=line.item, in_use=True).first()
        if item is None:
            raise ApiError(
                422, f"The price list has no {line.item!r}.", "Use a code that is in use.", f"lines.{place}.item"
            )
    price = line.price if line.price is not None else (item.price if item else None)
    if price is None:
        raise ApiError(422, "A line needs a price, or a code of the price list.", "", f"lines.{place}.price")
    return Wanted(line.words or (item.words if item else ""), price, line.count, item)


def _decided(request: HttpRequest, row: Quote, body: QuoteDecision, act: Callable[..., Quote]) -> QuoteOut:
    by, now = person_on(request), timezone.now()
    return _done(row, lambda: act(row, body.said_by, body.words, now, by))


def _done(row: Quote, act: Callable[[], Quote]) -> QuoteOut:
    """Do something with a quote. Raises: ApiError (409) with the quote as it stands."""
    try:
        with transaction.atomic():
            act()
    except QuoteError as error:
        stands = quote_out(_quote(row.number)).model_dump(mode="json")
        raise ApiError(409, str(error), "Look at `current`.", "", stands) from error
    return quote_out(_quote(row.number))


def _rows() -> Any:
    return Quote.objects.select_related("job", "replaces").prefetch_related("lines__item")


def _quote(number: str) -> Quote:
    row: Quote | None = _rows().filter(number=number.replace("\0", "")).first()
    if row is None:
        raise missing("quote", number)
    return row
