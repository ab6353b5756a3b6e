"""A fuel of the shop's own is retired, not removed: records and links may still name it."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from flueproof.shop.records.models import ShopFuel


def set_in_use(row: ShopFuel, by: Any, *, in_use: bool) -> bool:
    """Retire a fuel or take it up again; return False where it already is so.

    by: the person, for the history.
    """
    with transaction.atomic():
        current = ShopFuel.objects.select_for_update().get(pk=row.pk)
        if current.in_use == in_use:
            return False
        current.in_use = in_use
        current._history_user = by  # noqa: SLF001 -- the documented way of simple_history
        current.save()
    return True
