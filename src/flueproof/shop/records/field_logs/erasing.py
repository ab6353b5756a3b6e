"""Erasing a field log: the row is gone and no history of it is kept anywhere; backups are the shop's to throw away."""

from __future__ import annotations

import datetime as dt

from django.db import connection, transaction
from django.utils import timezone

from flueproof.shop.records.models import FieldLog


def erase_log(pk: int) -> bool:
    """Erase one log for good; return False where it is gone already."""
    _overwrite_what_is_freed()
    with transaction.atomic():
        count, _ = FieldLog.objects.filter(pk=pk).delete()
    return count > 0


def erase_expired(now: dt.datetime) -> int:
    """Erase every log whose last day is over; return how many."""
    over = FieldLog.objects.filter(keep_until__lt=timezone.localtime(now).date())
    if not over.exists():
        return 0
    _overwrite_what_is_freed()
    with transaction.atomic():
        count, _ = over.delete()
    return count


def _overwrite_what_is_freed() -> None:
    """Ask the database to write zeros over what is deleted: SQLite leaves it in the file until the room is used."""
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA secure_delete = ON")
