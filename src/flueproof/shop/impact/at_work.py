"""What the views of this page begin with: who asks, about which analyzer, and what was found in which visit."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any, cast

from django.http import Http404, HttpRequest
from django.shortcuts import get_object_or_404

from flueproof.bench.errors import BenchError
from flueproof.impact.errors import ImpactError
from flueproof.shop.records.field_logs.found import Found, found_in, visits_of
from flueproof.shop.records.field_logs.last_good import LastGood, last_good_before
from flueproof.shop.records.field_logs.seeing import analyzers_seen_by, logs_seen_by, visits_seen_by
from flueproof.shop.records.models import Analyzer, FieldLog, Person, Visit

_LONGEST_KEY = 18


@dataclass(frozen=True, slots=True)
class Case:
    """An analyzer, the visits to choose from, what the chosen one found, or in words why nothing can be said."""

    analyzer: Analyzer
    visits: list[Visit]
    visit: Visit | None
    found: Found | None
    last_good: LastGood | None
    cannot: str = ""

    @property
    def last_good_on(self) -> dt.date | None:
        """The last good day that the papers say."""
        return self.last_good.day if self.last_good is not None else None


def person_of(request: HttpRequest) -> Person:
    """Return the person; `requires` has let in nobody else."""
    return cast("Person", request.user)


def case_of(request: HttpRequest, pk: int, given: Any) -> Case:
    """Return the analyzer that an address names and what its chosen visit found; given: holds `visit`, a key.

    Raises: Http404 for an analyzer or visit that is not there, or that is somebody else's.
    """
    person = person_of(request)
    analyzer = get_object_or_404(analyzers_seen_by(person).select_related("owner"), pk=pk)
    visits = visits_of(analyzer, visits_seen_by(person))
    asked = str(given.get("visit", ""))
    if asked and not (asked.isdecimal() and len(asked) <= _LONGEST_KEY):
        raise Http404
    chosen = next((row for row in visits if row.pk == int(asked)), None) if asked else next(iter(visits), None)
    if asked and chosen is None:
        raise Http404
    return case_with(analyzer, visits, chosen)


def case_with(analyzer: Analyzer, visits: list[Visit], visit: Visit | None) -> Case:
    """Return what a visit found, with the last good day before it."""
    if visit is None:
        words = "This analyzer has no visit yet in which it was measured as found: nothing can be said of its readings."
        return Case(analyzer, visits, None, None, None, words)
    try:
        found = found_in(visit)
    except (ImpactError, BenchError) as error:
        return Case(analyzer, visits, visit, None, None, str(error))
    return Case(analyzer, visits, visit, found, last_good_before(found))


def visit_named(request: HttpRequest, pk: int) -> Visit:
    """Return a visit that this person may look into. Raises: Http404."""
    rows = visits_seen_by(person_of(request)).filter(job__analyzer__in=analyzers_seen_by(person_of(request)))
    return get_object_or_404(rows.select_related("job"), pk=pk)


def log_named(request: HttpRequest, pk: int) -> FieldLog:
    """Return a kept log that this person may open. Raises: Http404."""
    rows = logs_seen_by(person_of(request)).select_related("analyzer__owner", "visit__job__owner", "owner", "kept_by")
    return get_object_or_404(rows.select_related("visit__job__analyzer"), pk=pk)
