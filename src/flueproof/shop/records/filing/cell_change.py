"""A cell is replaced: the old one stays on file with the day it came out."""

from __future__ import annotations

from django.db import transaction

from flueproof.shop.records.models import Cell, Person


class CellGoneError(ValueError):
    """A cell that is out already and cannot be replaced."""


def replace_cell(old: Cell, new: Cell, by: Person) -> Cell:
    """Take the old cell out on the day the new one goes in, and return the new one, saved.

    new: unsaved, with at least `fitted`; gas and analyzer are the old one's. The same cell put in twice (same serial,
    same day) changes nothing.
    Raises: CellGoneError.
    """
    with transaction.atomic():
        row: Cell = Cell.objects.select_for_update().get(pk=old.pk)
        if row.removed is not None:
            same: Cell | None = Cell.objects.filter(
                analyzer=row.analyzer_id, gas=row.gas, serial=new.serial, fitted=new.fitted
            ).first()
            if same is not None and row.removed == new.fitted:
                return same
            raise CellGoneError(f"{row} came out on {row.removed.isoformat()} already; load the page again")
        new.analyzer_id, new.gas, row.removed = row.analyzer_id, row.gas, new.fitted
        for cell in (row, new):
            cell._history_user = by  # type: ignore[attr-defined] # noqa: SLF001 -- the documented way of simple_history
            cell.save()
    return new
