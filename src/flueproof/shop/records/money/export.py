"""Finished jobs as CSV for the books: serials and numbers as text, dates ISO 8601, nothing that a spreadsheet runs."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Final

from django.utils import timezone

from flueproof.shop.records.models import Job
from flueproof.shop.records.money.quoting import total_of

COLUMNS: Final = (
    "job",
    "opened",
    "closed",
    "state",
    "owner",
    "customer number",
    "purchase order",
    "own number",
    "make",
    "model",
    "serial",
    "service",
    "papers",
    "comeback of",
    "quotes approved",
    "currency",
    "sum approved",
    "approved by",
)
_AT_ONCE: Final = 500
# What a spreadsheet takes for the beginning of a formula (OWASP, "CSV Injection").
_BEGINS_A_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r", "\n")


class ExportError(ValueError):
    """Days that are no span of time."""


def finished_jobs(first: date, last: date) -> list[Job]:
    """Return the jobs that were closed from the first day to the last, both included, in order.

    Raises: ExportError.
    """
    if last < first:
        raise ExportError("The last day lies before the first.")
    zone = timezone.get_current_timezone()
    begin = datetime.combine(first, time.min, tzinfo=zone)
    end = datetime.combine(last + timedelta(days=1), time.min, tzinfo=zone)
    rows = Job.objects.filter(state__in=("returned", "dropped"), closed_at__gte=begin, closed_at__lt=end)
    return list(rows.select_related("owner", "analyzer", "first_job").order_by("closed_at", "id"))


def csv_lines(jobs: list[Job]) -> Iterator[str]:
    """Yield the lines of the file, the head first; each ends as RFC 4180 asks."""
    yield _line(COLUMNS)
    for start in range(0, len(jobs), _AT_ONCE):
        for job in jobs[start : start + _AT_ONCE]:
            yield _line([as_text(value) for value in _values(job)])


def as_text(value: str) -> str:
    """Return a value that a spreadsheet shows and never runs, and never rounds.

    What begins like a formula gets an apostrophe before it; so does what is all digits with a leading zero or longer
    than a spreadsheet holds exactly (15 digits), since a serial is text.
    """
    plain = value.replace("\0", "")
    if plain.lstrip(" ").startswith(_BEGINS_A_FORMULA) or _would_be_a_number(plain):
        return f"'{plain}"
    return plain


def _would_be_a_number(text: str) -> bool:
    """Return True for text that a spreadsheet would turn into another number: 00417, 1E5, 12345678901234567."""
    stripped = text.strip()
    if not stripped or not stripped[0].isdigit():
        return False
    if stripped.isdigit():
        return len(stripped) > 15 or (stripped[0] == "0" and len(stripped) > 1)
    mantissa, e, exponent = stripped.upper().partition("E")
    return bool(e) and mantissa.replace(".", "", 1).isdigit() and exponent.lstrip("+-").isdigit()


def _values(job: Job) -> list[str]:
    approved = [one for one in job.quotes.order_by("id") if one.state == "approved"]
    total = sum((total_of(one) for one in approved), Decimal("0.00"))
    currencies = sorted({one.currency for one in approved})
    one_currency = len(currencies) <= 1
    return [
        job.number,
        _day(job.opened_at),
        _day(job.closed_at),
        job.get_state_display(),
        job.owner.name,
        job.owner.number,
        job.purchase_order,
        job.own_number,
        job.analyzer.make,
        job.analyzer.model,
        job.analyzer.serial,
        job.get_service_display(),
        " ".join(job.papers.order_by("id").values_list("number", flat=True)),
        job.first_job.number if job.first_job else "",
        " ".join(one.number for one in approved),
        " ".join(currencies),
        f"{total:.2f}" if approved and one_currency else "",
        "; ".join(one.decided_by for one in approved),
    ]


def _day(moment: datetime | None) -> str:
    return timezone.localtime(moment).date().isoformat() if moment else ""


def _line(values: tuple[str, ...] | list[str]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerow(values)
    return out.getvalue()
