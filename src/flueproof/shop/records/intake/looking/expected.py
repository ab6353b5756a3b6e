"""Who is expected: open requests, calls of the last days, and how many analyzers are due around today."""

from __future__ import annotations

import datetime as dt
from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from django.db.models import Count, Max
from django.utils import timezone

from flueproof.intake.file.on_file import OpenRequest, OwnerOnFile, Place
from flueproof.intake.weighing.expecting import CALL_DAYS, DUE_DAYS
from flueproof.shop.records.intake.asking.on_file import owner_now
from flueproof.shop.records.intake.looking.rows import read_serial
from flueproof.shop.records.keeping.plate_key import name_key
from flueproof.shop.records.models import Analyzer, Job, Obligation, PhoneCall, RequestedAnalyzer, ServiceRequest

AWAITED: Final = ("unconfirmed", "confirmed")
_MOST_UNKNOWN: Final = 200


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
    """Return what is awaited on a day."""
    requests: dict[Any, list[OpenRequest]] = defaultdict(list)
    jobs = Job.objects.filter(state="requested").order_by("pk")
    for pk, owner, analyzer, opened in jobs.values_list("pk", "owner_id", "analyzer_id", "opened_at"):
        requests[owner].append(OpenRequest(("job", pk), timezone.localdate(opened), analyzer))
    unknown = _of_requests(requests)
    return Expecting(requests, tuple(unknown), _callers(today))


def due_around(today: dt.date) -> dict[int, int]:
    """Return how many analyzers are due on each day near today, as days from it."""
    near = (today - dt.timedelta(days=DUE_DAYS), today + dt.timedelta(days=DUE_DAYS))
    rows = Obligation.objects.filter(next_due__range=near).order_by().values_list("next_due").annotate(Count("pk"))
    return {(day - today).days: count for day, count in rows}


def _callers(today: dt.date) -> dict[int, dt.date]:
    since = dt.datetime.combine(today - dt.timedelta(days=CALL_DAYS), dt.time.min, timezone.get_current_timezone())
    calls = PhoneCall.objects.filter(at__gte=since, owner__isnull=False).order_by()
    return {pk: timezone.localdate(at) for pk, at in calls.values_list("owner_id").annotate(Max("at"))}


def _of_requests(requests: dict[Any, list[OpenRequest]]) -> list[OwnerOnFile]:
    """Put requests that are no job yet to their owners; return the senders of those that have none."""
    waiting = RequestedAnalyzer.objects.filter(job=None, request__state__in=AWAITED).select_related(
        "request__owner__merged_into", "analyzer"
    )
    rows = list(waiting.order_by("-pk")[: 20 * _MOST_UNKNOWN])
    units = _on_file(rows)
    nameless: dict[int, list[RequestedAnalyzer]] = defaultdict(list)
    for row in rows:
        unit = row.analyzer or units.get((name_key(row.make), row.serial.strip()))
        owner = owner_now(row.request.owner).pk if row.request.owner else unit.owner_id if unit else None
        if owner is None:
            nameless[row.request_id].append(row)
        else:
            requests[owner].append(_asked(row, unit))
    return [_sender(own[0].request, own) for own in list(nameless.values())[:_MOST_UNKNOWN]]


def _on_file(rows: list[RequestedAnalyzer]) -> dict[tuple[str, str], Analyzer]:
    serials = {row.serial.strip() for row in rows if row.analyzer_id is None and row.serial.strip()}
    found: dict[tuple[str, str], Analyzer] = {}
    listed = sorted(serials)
    for start in range(0, len(listed), 500):
        for unit in Analyzer.objects.filter(serial__in=listed[start : start + 500]):
            found[name_key(unit.make), unit.serial] = unit
    return found


def _asked(row: RequestedAnalyzer, unit: Analyzer | None) -> OpenRequest:
    since = timezone.localdate(row.request.sent_at or row.request.made_at)
    key = unit.pk if unit is not None else None
    return OpenRequest(("requested", row.pk), since, key, row.make, row.model, read_serial(row.serial))


def _sender(request: ServiceRequest, rows: list[RequestedAnalyzer]) -> OwnerOnFile:
    place = Place(" ".join(request.lines.split()), request.postcode, request.town)
    return OwnerOnFile(
        ("request", request.pk),
        (request.firm or request.contact,),
        (request.contact,) if request.contact and request.firm else (),
        (request.phone,) if request.phone else (),
        (request.email,) if request.email else (),
        (place,),
        requests=tuple(_asked(row, None) for row in rows),
        on_file=False,
    )


def asked_counts(expected: Expecting) -> Counter[Any]:
    """Return how many open requests each owner has."""
    return Counter({owner: len(own) for owner, own in expected.requests.items()})
