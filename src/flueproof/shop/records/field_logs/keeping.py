"""Keeping an owner's field log: only with the owner's word, only until a day, and never twice."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from django.db import transaction

from flueproof.impact.errors import LimitError
from flueproof.impact.field_log.row import FieldRow, row_from_dict
from flueproof.impact.statements.limits import Limit, limit_from_dict
from flueproof.shop.records.models import Analyzer, FieldLog, Person, Visit

LONGEST: Final = dt.timedelta(days=3 * 366)
"""A log is kept for at most so long; then the owner is asked again. Own choice."""
MOST_ROWS: Final = 50_000


class KeepingError(ValueError):
    """What was entered is not enough to keep a log; `field` names the place, the message what is missing."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field


@dataclass(frozen=True, slots=True)
class LogContent:
    """What is kept: rows as they were read, the limits, and the owner's convention (method, excess_air, air_free)."""

    rows: tuple[FieldRow, ...]
    limits: tuple[Limit, ...]
    convention: dict[str, str]
    last_good: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Consent:
    """Who said that it may be kept, until when, and what the log is called."""

    said: str
    keep_until: dt.date | None
    name: str = ""


def keep_log(visit: Visit, content: LogContent, consent: Consent, by: Person, now: dt.datetime) -> FieldLog:
    """Keep a log and return its row; the same log pressed twice is one row.

    It belongs to the owner of the visit's job. Raises: KeepingError.
    """
    said = consent.said.strip()
    if not said:
        raise KeepingError("said", "Write who said that it may be kept: nothing is kept without the owner's word.")
    if consent.keep_until is None:
        raise KeepingError("keep_until", "Say until when it may be kept.")
    if not now.date() <= consent.keep_until <= now.date() + LONGEST:
        raise KeepingError("keep_until", "Choose a day from today on, at most three years ahead.")
    if not content.rows:
        raise KeepingError("said", "There is no reading to keep.")
    if len(content.rows) > MOST_ROWS:
        raise KeepingError("said", f"{len(content.rows)} readings are too many to keep; at most {MOST_ROWS}.")
    rows = [row.as_dict() for row in content.rows]
    chosen = {"convention": content.convention, "limits": [limit.as_dict() for limit in content.limits]}
    analyzer: Analyzer = visit.job.analyzer
    with transaction.atomic():
        Visit.objects.select_for_update().get(pk=visit.pk)
        for old in FieldLog.objects.filter(analyzer=analyzer, visit=visit, said=said[:200]):
            if (old.rows, old.limits, old.last_good) == (rows, chosen, content.last_good):
                return old
        return FieldLog.objects.create(
            owner=visit.job.owner,
            analyzer=analyzer,
            visit=visit,
            name=consent.name.strip()[:120],
            rows=rows,
            limits=chosen,
            last_good=content.last_good,
            said=said[:200],
            kept_at=now,
            kept_by=by,
            keep_until=consent.keep_until,
        )


def content_of(log: FieldLog) -> LogContent:
    """Return what a kept log holds. Raises: LimitError, KeyError, ValueError on foreign data."""
    chosen: Any = log.limits
    if not isinstance(chosen, dict):
        raise LimitError("the limits of this log cannot be read.")
    return LogContent(
        tuple(row_from_dict(row) for row in log.rows),
        tuple(_limits(chosen["limits"])),
        {str(key): str(value) for key, value in chosen["convention"].items()},
        log.last_good,
    )


def _limits(rows: Sequence[dict[str, Any]]) -> list[Limit]:
    return [limit_from_dict(row) for row in rows]
