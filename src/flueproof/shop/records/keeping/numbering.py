"""Running numbers without gaps or doubles: J-2026-00042 for jobs, FP-2026-00017 for certificates."""

from __future__ import annotations

from django.db import transaction

from flueproof.shop.records.models import Numbering


def as_numbered(text: str) -> str:
    """Return a number as the tables hold it, however it was typed; so it is found by its index."""
    return text.strip().upper()


def next_number(prefix: str, year: int) -> str:
    """Return the next number of a prefix and year, inside the caller's transaction."""
    with transaction.atomic():
        row, _ = Numbering.objects.select_for_update().get_or_create(prefix=prefix, year=year)
        row.last += 1
        row.save(update_fields=["last"])
    return f"{prefix}-{year}-{row.last:05d}"
