"""The counter's list of requests: what waits for whom, the oldest unconfirmed first."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from django.db.models import Count, Q, QuerySet

from flueproof.shop.frame.presenters.moments import moment_text
from flueproof.shop.records.intake.requests import CONFIRM_WITHIN
from flueproof.shop.records.intake.slips import find_request, find_slip
from flueproof.shop.records.models import ServiceRequest

VIEWS: Final = {
    "open": "Open",
    "unconfirmed": "Not confirmed",
    "confirmed": "Box awaited",
    "draft": "Drafts",
    "taken": "All here",
    "withdrawn": "Withdrawn",
}
_MOST: Final = 100


@dataclass(frozen=True, slots=True)
class RequestLine:
    """One request in the list; stuck: why somebody should ring, "" while it goes its way."""

    row: ServiceRequest
    who: str
    analyzers: str
    state: str
    since: str
    stuck: str


def counts() -> dict[str, int]:
    """Return how many requests stand in each view of the list."""
    states = dict(ServiceRequest.objects.order_by().values_list("state").annotate(Count("id")))
    return {name: sum(count for state, count in states.items() if _belongs(state, name)) for name in VIEWS}


def chosen_rows(view: str, asked: str) -> list[ServiceRequest]:
    """Return the requests of a view, or those that a text means: a code, a slip, a firm, a name, a serial."""
    rows: QuerySet[ServiceRequest] = ServiceRequest.objects.prefetch_related("analyzers__job", "letters")
    if asked:
        request, slip = find_request(asked), find_slip(asked)
        if request is not None or slip is not None:
            return list(rows.filter(pk=request.pk if request is not None else slip.request_id))  # type: ignore[union-attr]
        words = Q(firm__icontains=asked) | Q(contact__icontains=asked) | Q(email__icontains=asked)
        found = rows.filter(words | Q(analyzers__serial__icontains=asked) | Q(phone__icontains=asked))
        return list(found.distinct().order_by("-id")[:_MOST])
    states = [state for state, _ in ServiceRequest.STATES if _belongs(state, view)]
    return list(rows.filter(state__in=states).order_by("-id")[:_MOST])


def lines_of(rows: Sequence[ServiceRequest], now: dt.datetime) -> list[RequestLine]:
    """Return the lines of the list."""
    return [_line(row, now) for row in rows]


def stuck(row: ServiceRequest, now: dt.datetime) -> str:
    """Return why somebody should ring about a request, "" while it goes its way."""
    if row.state != "unconfirmed":
        return ""
    letters = sorted(row.letters.all(), key=lambda letter: letter.pk)
    last = next((letter for letter in reversed(letters) if letter.kind == "confirm-request"), None)
    if last is not None and last.state in {"bounced", "failed"}:
        return "The e-mail did not arrive. Ring them."
    if row.sent_at is not None and now - row.sent_at > CONFIRM_WITHIN:
        return f"Not confirmed for {(now - row.sent_at).days} days. Ring them."
    return ""


def _belongs(state: str, view: str) -> bool:
    return state == view or (view == "open" and state in {"unconfirmed", "confirmed"})


def _line(row: ServiceRequest, now: dt.datetime) -> RequestLine:
    units = list(row.analyzers.all())
    named = ", ".join(str(one) for one in units[:3])
    more = f" and {len(units) - 3} more" if len(units) > 3 else ""
    at = row.confirmed_at or row.sent_at or row.made_at
    who = row.firm or row.contact or "nobody yet"
    return RequestLine(row, who, named + more, row.get_state_display(), moment_text(at, short=True), stuck(row, now))
