"""What was found wrong with an analyzer in a visit, as it acts on readings in the field."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from django.db.models import QuerySet
from django.utils import timezone

from flueproof.analyzer.profile import Profile
from flueproof.bench.bundle import bundle_from_dict
from flueproof.bench.errors import BenchError
from flueproof.bench.judgement import RULES_VERSION, Judgement
from flueproof.bench.record.record import Record
from flueproof.impact.errors import ImpactError
from flueproof.impact.found.field_errors import FieldErrors
from flueproof.impact.found.from_record import errors_as_found
from flueproof.shop.records.models import Analyzer, Paper, Visit
from flueproof.shop.records.visits.judged import Judged, judged
from flueproof.shop.records.visits.made_once import made_once

MOST_VISITS = 12
"""So many visits are looked at and offered, the newest first."""


@dataclass(frozen=True, slots=True)
class Found:
    """A visit in which the analyzer was measured as found, judged, with its errors.

    found_on: the shop's day on which the visit began; errors: as they act on field readings.
    """

    visit: Visit
    found_on: dt.date
    judgement: Judgement
    record: Record
    profile: Profile
    errors: FieldErrors


def visits_of(analyzer: Analyzer, seen: QuerySet[Visit]) -> list[Visit]:
    """Return the visits of an analyzer, of those that may be seen, in which it was measured as found, newest first."""
    rows = seen.filter(job__analyzer=analyzer).select_related("job__owner", "job__analyzer")
    return [row for row in rows.order_by("-opened_at", "-pk")[:MOST_VISITS] if has_as_found(row)]


def has_as_found(visit: Visit) -> bool:
    """Return whether the record of a visit says anything of the analyzer as it came in."""
    try:
        stands = judged(visit)
    except BenchError:
        return False
    return stands.judgement is not None and stands.judgement.as_found is not None


def found_in(visit: Visit) -> Found:
    """Return what a visit found, from its record and with the frozen inputs of its paper where it has one.

    Raises: ImpactError, BenchError where nothing follows from the record.
    """
    stands = judged(visit)
    if stands.record is None or stands.judgement is None:
        raise ImpactError("Nothing was measured in this visit.")
    errors = _errors(visit, stands, "as-found")
    return Found(visit, day_of(visit), stands.judgement, stands.record, stands.profile, errors)


def errors_left_by(visit: Visit) -> FieldErrors | None:
    """Return the errors with which the analyzer went home from a visit, None where they were not measured.

    Where nothing was changed there is no second measurement: what was found is what went home.
    """
    stands = judged(visit)
    if stands.record is None or stands.judgement is None:
        return None
    phase = "as-left" if stands.judgement.as_left is not None else "as-found"
    try:
        return _errors(visit, stands, phase)
    except (ImpactError, BenchError):
        return None


def day_of(visit: Visit) -> dt.date:
    """Return the shop's day on which a visit began."""
    return timezone.localtime(visit.opened_at).date()


def _errors(visit: Visit, stands: Judged, phase: str) -> FieldErrors:
    paper = Paper.objects.filter(visit=visit, amended_by=None).order_by("-pk").only("judgement").first()
    record, judgement = stands.record, stands.judgement
    if record is None or judgement is None:
        raise ImpactError("Nothing was measured in this visit.")
    frozen = paper.judgement["bundle"] if paper is not None else judgement.bundle
    state = f"{stands.last_hash}-{RULES_VERSION}-{paper.pk if paper is not None else 0}"

    def make() -> FieldErrors:
        return errors_as_found(record, stands.profile, bundle=bundle_from_dict(frozen), phase=phase)

    return made_once(f"field-errors-{visit.pk}-{phase}", state, make)
