"""How the store stands: pieces, reserved, on order, when to order; and the list of what is to be picked."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Sum

from flueproof.parts.demand.reorder import Advice
from flueproof.parts.going_out import Lot, Picked, expires_soon, pick, usable_count, why_not
from flueproof.shop.records.models import Job, Part, PartLot, StockMove
from flueproof.shop.records.stock.on_shelf import lot_of
from flueproof.shop.records.stock.use import advices


@dataclass(frozen=True, slots=True)
class Standing:
    """A part as it stands: its lots with pieces, pieces usable and not, reserved, on order, and the advice."""

    part: Part
    lots: tuple[PartLot, ...]
    usable: int
    barred: int
    reserved: int
    on_order: int
    advice: Advice
    soon: tuple[PartLot, ...]

    @property
    def position(self) -> int:
        """Pieces that may be used, plus on order, less reserved."""
        return self.usable + self.on_order - self.reserved


@dataclass(frozen=True, slots=True)
class ToPick:
    """What is to be brought to the bench for one job: pieces of which lots, and how many are missing."""

    job: Job
    part: Part
    wanted: int
    picked: tuple[Picked, ...]
    short: int


def standings(parts: Iterable[Part], today: dt.date) -> list[Standing]:
    """Return how parts stand, in their order."""
    rows = list(parts)
    lots: dict[int, list[PartLot]] = defaultdict(list)
    for lot in PartLot.objects.select_related("part").filter(part__in=rows, on_hand__gt=0):
        lots[lot.part_id].append(lot)
    sums = (
        StockMove.objects.filter(part__in=rows)
        .order_by()
        .values("part")
        .annotate(held=Sum("reserved"), due=Sum("ordered"))
    )
    open_sums = {row["part"]: (max(row["held"], 0), max(row["due"], 0)) for row in sums}
    counts = {part.pk: usable_count([lot_of(one) for one in lots[part.pk]], today) for part in rows}
    none = (0, 0)
    positions = {
        part.pk: counts[part.pk] + open_sums.get(part.pk, none)[1] - open_sums.get(part.pk, none)[0] for part in rows
    }
    advice = advices(rows, positions, today)
    return [
        Standing(
            part,
            tuple(lots[part.pk]),
            counts[part.pk],
            sum(one.on_hand for one in lots[part.pk] if why_not(lot_of(one), today)),
            *open_sums.get(part.pk, none),
            advice[part.pk],
            tuple(one for one in lots[part.pk] if expires_soon(lot_of(one), today) and not why_not(lot_of(one), today)),
        )
        for part in rows
    ]


def picking_list(today: dt.date, job: Job | None = None) -> list[ToPick]:
    """Return what is reserved and not taken, by job, and from which lots; what expires first goes to the first job."""
    sums = StockMove.objects.filter(job__isnull=False).order_by().values("job", "part").annotate(pieces=Sum("reserved"))
    wanted = [(row["job"], row["part"], row["pieces"]) for row in sums if row["pieces"] > 0]
    jobs = Job.objects.select_related("analyzer", "owner").in_bulk({one[0] for one in wanted})
    parts = Part.objects.in_bulk({one[1] for one in wanted})
    shelf = {
        key: [lot_of(lot) for lot in part.lots.select_related("part").filter(on_hand__gt=0)]
        for key, part in parts.items()
    }
    rows = []
    order = sorted(
        wanted, key=lambda one: (jobs[one[0]].promised_on or dt.date.max, jobs[one[0]].number, parts[one[1]].code)
    )
    for job_key, part_key, pieces in order:
        picked = pick(shelf[part_key], pieces, today)
        shelf[part_key] = _less(shelf[part_key], picked)
        short = pieces - sum(one.count for one in picked)
        rows.append(ToPick(jobs[job_key], parts[part_key], pieces, tuple(picked), short))
    return [row for row in rows if job is None or row.job.pk == job.pk]


def _less(lots: list[Lot], picked: list[Picked]) -> list[Lot]:
    gone = {one.lot.code: one.count for one in picked}
    return [Lot(one.code, one.on_hand - gone.get(one.code, 0), one.last_good, one.received, one.barred) for one in lots]
