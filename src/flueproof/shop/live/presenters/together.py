"""The gas of a set in words: litres, money, sets left in the bottle, and what may be left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from flueproof.shop.records.models import Application
from flueproof.shop.records.visits.looks.together import LeftOut, budget_of, left_out


@dataclass(frozen=True, slots=True)
class BudgetView:
    """Ready text: what a full hold takes, what is gone, what the bottle still gives."""

    planned: str
    taken: str
    left: str


def budget_view(members: Sequence[Application], now: datetime) -> BudgetView:
    """Return the budget of a set in words."""
    found = budget_of(members, now)
    rest = "not known: enter volume and gauge on the Gas rack"
    if found.left_l is not None and found.sets_left is not None:
        sets = "set" if found.sets_left == 1 else "sets"
        rest = f"{found.left_l:,.0f} L, {found.sets_left} {sets} like this"
    return BudgetView(_litres(found.planned_l, found.planned_cost), _litres(found.taken_l, found.taken_cost), rest)


def left_out_view(members: Sequence[Application], now: datetime) -> list[LeftOut]:
    """Return for each analyzer what of this bottle may be left out."""
    found = []
    for one in members:
        if one.reference is not None and one.ended_at is None:
            said = left_out(one.visit, one.reference, now)
            if said is not None and said.titles:
                found.append(said)
    return found


def _litres(litres: float, cost: Decimal | None) -> str:
    return f"{litres:.1f} L" if cost is None else f"{litres:.1f} L, {cost:,.2f} in the shop's money"
