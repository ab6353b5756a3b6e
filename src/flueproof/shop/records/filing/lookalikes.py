"""Analyzers whose plates look alike: reported, never merged silently."""

from __future__ import annotations

from collections.abc import Iterable

from django.db.models import QuerySet

from flueproof.shop.records.keeping.plate_key import lookalike_key
from flueproof.shop.records.models import Analyzer

_MOST = 5


def lookalikes_of(serial: str, besides: int | None = None) -> QuerySet[Analyzer]:
    """Return up to five analyzers whose serial reads like this one (0/O, 1/I/L, 5/S, 8/B, 2/Z, signs left out).

    besides: key of the analyzer that is looked at itself. A serial without a letter or digit is like no other.
    """
    key = lookalike_key(serial)
    rows: QuerySet[Analyzer] = Analyzer.objects.filter(lookalike=key).select_related("owner").order_by("id")
    if besides is not None:
        rows = rows.exclude(pk=besides)
    return rows[:_MOST] if key else rows.none()


def lookalikes_in_words(serial: str, found: Iterable[Analyzer]) -> str:
    """Return the warning for a form: which analyzers on file the serial reads like."""
    listed = "; ".join(f"{one.make} {one.model} {one.serial} of {one.owner}" for one in found)
    return f"{serial} reads like one on file: {listed}. Look at the plate again (0 or O, 1 or I), then say so below."
