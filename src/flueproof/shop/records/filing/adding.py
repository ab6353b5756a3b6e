"""A row that belongs to an owner or an analyzer is added, once: the same press twice makes one."""

from __future__ import annotations

from typing import Any

from django.db import models, transaction

from flueproof.shop.records.keeping.field_words import kept_fields
from flueproof.shop.records.models import Person


def add_once(row: Any, parent: str, by: Person) -> Any:
    """Save a new row of a parent and return it; where the parent has one that is the same in all, return that.

    row: unsaved, with its parent set; parent: name of the field that leads to the parent (`owner`, `analyzer`).
    """
    kept = getattr(row, parent)
    model: type[models.Model] = type(row)
    with transaction.atomic():
        type(kept).objects.select_for_update().get(pk=kept.pk)  # the second press waits for the first
        same = {field.attname: getattr(row, field.attname) for field in kept_fields(model)}
        standing = model._default_manager.filter(**same).first()  # noqa: SLF001 -- Django's documented model API
        if standing is not None:
            return standing
        row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
        row.save()
    return row
