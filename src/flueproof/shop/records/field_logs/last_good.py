"""The last day on which an analyzer was known good, and in which state it was then."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from flueproof.bench.errors import BenchError
from flueproof.impact.correcting.over_time import ErrorHistory
from flueproof.impact.found.field_errors import FieldErrors
from flueproof.impact.found.start import errors_inside_limits
from flueproof.shop.records.field_logs.found import Found, errors_left_by
from flueproof.shop.records.models import Paper

GOOD = "conform"


@dataclass(frozen=True, slots=True)
class LastGood:
    """A day on which the analyzer was known good, and the paper that says so."""

    day: dt.date
    paper: Paper


def last_good_before(found: Found) -> LastGood | None:
    """Return the last paper before a visit that called the analyzer conform, None where there is none."""
    visit = found.visit
    earlier = Paper.objects.filter(
        job__analyzer_id=visit.job.analyzer_id, visit__opened_at__lt=visit.opened_at, outcome=GOOD, amended_by=None
    ).exclude(visit=visit)
    paper = earlier.select_related("visit__job__analyzer").order_by("-issued_on", "-pk").first()
    if paper is None or paper.issued_on > found.found_on:
        return None
    return LastGood(paper.issued_on, paper)


def history_of(found: Found, last_good: LastGood | None, last_good_on: dt.date | None) -> ErrorHistory:
    """Return the error from the last good day to the day it was found.

    last_good_on: the day as the owner knows it, None where it is not known. The state on that day is as measured where
    it is the day of the paper, otherwise anywhere inside the limits of the model.
    Raises: FieldReadingError where the day lies after the finding.
    """
    return ErrorHistory(found.errors, _start(found, last_good, last_good_on), found.found_on, last_good_on)


def _start(found: Found, last_good: LastGood | None, last_good_on: dt.date | None) -> FieldErrors:
    measured = None
    if last_good is not None and last_good_on == last_good.day:
        try:
            measured = errors_left_by(last_good.paper.visit)
        except BenchError:
            measured = None
    return measured if measured is not None else errors_inside_limits(found.profile)
