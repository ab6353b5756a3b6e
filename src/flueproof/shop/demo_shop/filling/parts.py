"""The demo's parts store: a year and a half of use, a lot near its end, one recalled, one part to order."""

from __future__ import annotations

import datetime as dt
import random
from dataclasses import dataclass
from typing import Any, Final

from django.utils import timezone

from flueproof.parts.shelf import months_after
from flueproof.shop.demo_shop.jobs import Scene
from flueproof.shop.records.models import Job, Part, PartLot, StockMove
from flueproof.shop.records.stock.asking import order, reserve
from flueproof.shop.records.stock.ledger import Pen
from flueproof.shop.records.stock.receiving import Delivery, receive, set_state

_SEASON: Final = (5, 4, 3, 2, 1, 2, 3, 5, 8, 10, 9, 6)  # use of cells by month, busiest in fall
_BACK: Final = 18
SEED: Final = 606


@dataclass(frozen=True, slots=True)
class _Kind:
    """A demo part: its row, how many of it the busiest month uses, and its lots (name, pieces, months old)."""

    row: dict[str, object]
    busiest: float
    lots: tuple[tuple[str, int, int], ...]


_CELL: Final = {"kind": "cell", "supplier": "Alder Cells (invented)", "lead_days": 21, "late_days": 35, "pack": 2}
_SMALL: Final = {"supplier": "Bench Supply (invented)", "lead_days": 7, "late_days": 12, "pack": 10}
_WAY: Final = (
    "Read out the stored readings first. Update over the charging socket, then enter the cell's type and date."
)
_KINDS: Final = (
    _Kind(
        {"code": "CELL-O2", "title": "o2 cell", "shelf_months": 12, "place": "drawer 1", "guess_a_year": 30, **_CELL},
        5,
        (("O2-2291", 3, 10), ("O2-2307", 5, 2)),
    ),
    _Kind(
        {
            "code": "CELL-CO",
            "title": "co cell",
            "shelf_months": 18,
            "place": "drawer 1",
            "guess_a_year": 20,
            "firmware": "2.4",
            "firmware_way": _WAY,
            **_CELL,
        },
        4,
        (("CO-5140", 2, 5), ("CO-5122", 4, 9)),
    ),
    _Kind(
        {
            "code": "CELL-NO",
            "title": "no cell",
            "shelf_months": 12,
            "place": "drawer 2",
            "guess_a_year": 4,
            "profiles": ["three-cell-light-commercial"],
            **_CELL,
        },
        1,
        (("NO-0877", 1, 11),),
    ),
    _Kind(
        {
            "code": "PUMP-1",
            "title": "pump",
            "kind": "pump",
            "place": "drawer 3",
            "guess_a_year": 10,
            "supplier": "Bench Supply (invented)",
            "lead_days": 10,
        },
        2,
        (("P-33", 4, 8),),
    ),
    _Kind(
        {
            "code": "FILTER-P",
            "title": "particle filter",
            "kind": "filter",
            "place": "drawer 4",
            "guess_a_year": 120,
            **_SMALL,
        },
        20,
        (("F-1009", 46, 4),),
    ),
    _Kind(
        {
            "code": "HOSE-3",
            "title": "probe hose",
            "kind": "path",
            "place": "hook 2",
            "guess_a_year": 12,
            "supplier": "Bench Supply (invented)",
            "lead_days": 7,
        },
        2,
        (("H-71", 5, 7),),
    ),
)


def fill_parts(scene: Scene) -> None:
    """Add kinds of parts, what was used of them month by month, what lies there now, an order and a reservation."""
    chance = random.Random(SEED)  # noqa: S311 -- invented data, the same each time
    by, today = scene.people["vale"], timezone.localtime(scene.now).date()
    pasts: list[StockMove] = []
    for kind in _KINDS:
        part: Any = Part(**kind.row)
        part._history_user = by  # noqa: SLF001 -- the documented way of simple_history
        part.save()
        pasts += _past(part, kind, scene, today, chance)
    StockMove.objects.bulk_create(pasts)
    for kind in _KINDS:
        part = Part.objects.get(code=kind.row["code"])
        for name, pieces, months in kind.lots:
            receive(part, Delivery(name, pieces, made=months_after(today, -months)), Pen(by, scene.now))
    recalled = PartLot.objects.get(code="CO-5122")
    set_state(recalled, "recalled", "its maker takes this lot back: low output (invented)", Pen(by, scene.now))
    pump = Part.objects.get(code="PUMP-1")
    order(pump, 2, Pen(by, scene.now - dt.timedelta(days=3)), "PO-118 (invented)")
    waiting = Job.objects.filter(state="parts").order_by("id").first()
    if waiting is not None:
        reserve(Part.objects.get(code="CELL-CO"), 1, waiting, Pen(by, scene.now))


def _past(part: Part, kind: _Kind, scene: Scene, today: dt.date, chance: random.Random) -> list[StockMove]:
    """Return what was used up before: received on the first day, taken out month by month."""
    lot: Any = PartLot(part=part, code=f"{part.code}-USED-UP", received_on=months_after(today, -_BACK))
    lot._history_user = scene.people["vale"]  # noqa: SLF001 -- the documented way of simple_history
    lot.save()
    taken = []
    for back in range(_BACK, 0, -1):
        day = months_after(today.replace(day=1), -back) + dt.timedelta(days=chance.randrange(25))
        pieces = round(kind.busiest * _SEASON[day.month - 1] / max(_SEASON) + chance.random() - 0.4)
        if pieces > 0:
            taken.append((day, pieces))
    first = StockMove(change=sum(pieces for _, pieces in taken), kind="received", at=_noon(months_after(today, -_BACK)))
    moves = [first, *(StockMove(change=-pieces, kind="taken", why="repairs", at=_noon(day)) for day, pieces in taken)]
    for move in moves:
        move.part, move.lot, move.by = part, lot, scene.people["vale"]
    return moves


def _noon(day: dt.date) -> dt.datetime:
    return timezone.make_aware(dt.datetime.combine(day, dt.time(12)))
