"""A new cell goes into the analyzer's own list with the step that fitted it; the old one stays, with its last day."""

from __future__ import annotations

from datetime import date
from typing import Any

from flueproof.analyzer.profile import Profile
from flueproof.bench.part_names import cells_named
from flueproof.shop.records.models import Analyzer, Cell, PartLot


def keep_fitted_cell(
    analyzer: Analyzer, step: dict[str, Any], profile: Profile, day: date, lot: PartLot | None = None
) -> list[Cell]:
    """Close the cell that a part step took out and add the one it put in; return the new ones.

    step: a `part` step as recorded; lot: of the store, which tells when the new cell was made. A part whose name means
    no one cell changes nothing here.
    """
    gases = cells_named(step["what"], profile)
    if len(gases) != 1 or step["done"] not in {"replaced", "fitted", "removed"}:
        return []
    gas = next(iter(gases))
    for old in analyzer.cells.filter(gas=gas, removed=None):
        old.removed = day
        old.save()
    if step["done"] == "removed":
        return []
    made = {"lot": lot.code[:40], "made": lot.made.isoformat() if lot.made else ""} if lot is not None else {}
    return [Cell.objects.create(analyzer=analyzer, gas=gas, serial=step.get("serial", ""), fitted=day, **made)]
