"""A row that belongs to an owner or an analyzer is removed: its history stays, and nobody's change is lost with it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import models, transaction

from flueproof.shop.records.keeping.conflict import EditConflict, conflict_of
from flueproof.shop.records.models import Person


@dataclass(frozen=True, slots=True)
class Removed:
    """Who removed a row, and when; who is None where the program did."""

    who: Person | None
    at: datetime


def remove_seen(row: models.Model, seen_version: int, by: Person) -> bool:
    """Remove a row whose version is still the one seen; its history stays. Return False when it was gone already.

    Raises: EditConflict when somebody changed it meanwhile, with nothing removed.
    """
    model: Any = type(row)
    with transaction.atomic():
        current = model.objects.select_for_update().filter(pk=row.pk).first()
        if current is None:
            return False
        if current.version != seen_version:
            conflict: EditConflict = conflict_of(current, seen_version, {})
            raise conflict
        current._history_user = by  # noqa: SLF001 -- the documented way of simple_history
        current.delete()
    return True


def removed(model: type[models.Model], pk: int, parent: str, parent_pk: int) -> Removed | None:
    """Return who removed a row of this parent and when, or None when no such row was ever removed.

    parent: name of the field that leads to the parent (`owner`, `analyzer`).
    """
    kept: Any = model.history.filter(  # type: ignore[attr-defined] # every audited model has one
        id=pk, history_type="-", **{f"{parent}_id": parent_pk}
    )
    last = kept.select_related("history_user").order_by("-history_id").first()
    return Removed(last.history_user, last.history_date) if last is not None else None
