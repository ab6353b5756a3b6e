"""Who is expected: open requests, calls of the last days, and how many analyzers are due around today."""

from __future__ import annotations

import datetime as dt
from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, NamedTuple

from django.db.models import Count, Max
from django.utils import timezone

from flueproof.intake.file.on_file import OpenRequest, OwnerOnFile, Place
from flueproof.intake.weighing.expecting import CALL_DAYS, DUE_DAYS
from flueproof.shop.records.intake.looking.rows import read_serial
from flueproof.shop.records.keeping.plate_key import name_key
from flueproof.shop.records.models import Analyzer, Job, Obligation, PhoneCall, RequestedAnalyzer, ServiceRequest

AWAITED: Final = ("unconfirmed", "confirmed")
_MOST_UNKNOWN: Final = 200


_COLUMNS: Final = (
    "pk",
    "make",
    "model",
    "serial",
    "analyzer_id",
    "analyzer__owner_id",
    "request_id",
    "request__owner_id",
    "request__owner__merged_into_id",
    "request__sent_at",
    "request__made_at",
)


class _Asked(NamedTuple):
    """One requested analyzer, as _COLUMNS reads it."""

    pk: int
    make: str
    model: str
    serial: str
    analyzer: int | None
    analyzer_owner: int | None
    request: int
    owner: int | None
    merged_into: int | None
    sent_at: dt.datetime | None
    made_at: dt.datetime


@dataclass(frozen=True, slots=True)
class Expecting:
    """What is awaited.

    requests: owner key -> open requests; unknown: senders of requests that are no owner yet, with theirs; called:
    owner key -> day of the last call.
    """

    requests: Mapping[Any, list[OpenRequest]]
    unknown: tuple[OwnerOnFile, ...]
    called: Mapping[int, dt.date]

    @property
    def count(self) -> int:
        """How many requests are open."""
        return sum(map(len, self.requests.values())) + sum(len(owner.requests) for owner in self.unknown)


def expecting(today: dt.date) -> Expecting:
    """Return what is awaited on a day. Plain columns only: it is asked anew while clues are being typed."""
    requests: dict[Any, list[OpenRequest]] = defaultdict(list)
    zone = timezone.get_current_timezone()
    jobs = Job.objects.filter(state="requested").order_by("pk")
    for pk, owner, analyzer, opened in jobs.values_list("pk", "owner_id", "analyzer_id", "opened_at"):
        requests[owner].append(OpenRequest(("job", pk), opened.astimezone(zone).date(), analyzer))
    unknown = _of_requests(requests, zone)
    return Expecting(requests, tuple(unknown), _callers(today, zone))


def due_around(today: dt.date) -> dict[int, int]:
    """Return how many analyzers are due on each day near today, as days from it."""
    near = (today - dt.timedelta(days=DUE_DAYS), today + dt.timedelta(days=DUE_DAYS))
    rows = Obligation.objects.filter(next_due__range=near).order_by().values_list("next_due").annotate(Count("pk"))
    return {(day - today).days: count for day, count in rows}


def _callers(today: dt.date, zone: dt.tzinfo) -> dict[int, dt.date]:
    since = dt.datetime.combine(today - dt.timedelta(days=CALL_DAYS), dt.time.min, zone)
    calls = PhoneCall.objects.filter(at__gte=since, owner__isnull=False).order_by()
    return {pk: at.astimezone(zone).date() for pk, at in calls.values_list("owner_id").annotate(Max("at"))}


def _of_requests(requests: dict[Any, list[OpenRequest]], zone: dt.tzinfo) -> list[OwnerOnFile]:
    """Put requests that are no job yet to their owners; return the senders of those that have none."""
    waiting = RequestedAnalyzer.objects.filter(job=None, request__state__in=AWAITED).order_by("-pk")
    rows = [_Asked(*row) for row in waiting.values_list(*_COLUMNS)[: 20 * _MOST_UNKNOWN]]
    units = _on_file(rows)
    nameless: dict[int, list[OpenRequest]] = defaultdict(list)
    for row in rows:
        found = units.get((name_key(row.make), row.serial.strip())) if row.analyzer is None else None
        unit, of_unit = (row.analyzer, row.analyzer_owner) if row.analyzer is not None else found or (None, None)
        since = (row.sent_at or row.made_at).astimezone(zone).date()
        asked = OpenRequest(("requested", row.pk), since, unit, row.make, row.model, read_serial(row.serial))
        owner = row.merged_into or row.owner or of_unit
        if owner is None:
            nameless[row.request].append(asked)
        else:
            requests[owner].append(asked)
    keys = list(nameless)[:_MOST_UNKNOWN]
    return [_sender(request, nameless[request.pk]) for request in ServiceRequest.objects.filter(pk__in=keys)]


def _on_file(rows: list[_Asked]) -> dict[tuple[str, str], tuple[int, int]]:
    """Return (make, serial) -> key and owner of analyzers on file that requests name to the letter."""
    listed = sorted({row.serial.strip() for row in rows if row.analyzer is None and row.serial.strip()})
    found: dict[tuple[str, str], tuple[int, int]] = {}
    for start in range(0, len(listed), 500):
        units = Analyzer.objects.filter(serial__in=listed[start : start + 500]).order_by()
        for make, serial, pk, owner in units.values_list("make", "serial", "pk", "owner_id"):
            found[name_key(make), serial] = pk, owner
    return found


def _sender(request: ServiceRequest, asked: list[OpenRequest]) -> OwnerOnFile:
    place = Place(" ".join(request.lines.split()), request.postcode, request.town)
    return OwnerOnFile(
        ("request", request.pk),
        (request.firm or request.contact,),
        (request.contact,) if request.contact and request.firm else (),
        (request.phone,) if request.phone else (),
        (request.email,) if request.email else (),
        (place,),
        requests=tuple(asked),
        on_file=False,
    )


def asked_counts(expected: Expecting) -> Counter[Any]:
    """Return how many open requests each owner has."""
    return Counter({owner: len(own) for owner, own in expected.requests.items()})
