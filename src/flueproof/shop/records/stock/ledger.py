"""Writing moves: the part's row is locked first, a lot never falls below none, and a form counts once."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.db.models import Sum

from flueproof.shop.records.models import BenchEvent, Job, Part, PartLot, Person, StockMove
from flueproof.shop.records.stock.errors import StockError


@dataclass(frozen=True, slots=True)
class Pen:
    """Who writes, when, and for which form (`source`, None where it may be sent again)."""

    by: Person
    now: datetime
    source: str | None = None


@dataclass(frozen=True, slots=True)
class Entry:
    """What a move says; see StockMove."""

    kind: str
    change: int = 0
    reserved: int = 0
    ordered: int = 0
    serials: tuple[str, ...] = ()
    job: Job | None = None
    event: BenchEvent | None = None
    corrects: StockMove | None = None
    why: str = ""


@contextmanager
def locked(part: Part) -> Iterator[Part]:
    """Hold a part's row until the end of the transaction: whoever else moves this part waits here."""
    with transaction.atomic():
        yield Part.objects.select_for_update().get(pk=part.pk)


def already(pen: Pen) -> StockMove | None:
    """Return the move that this form made before; call it with the part locked."""
    return StockMove.objects.filter(source=pen.source).first() if pen.source else None


def write(part: Part, lot: PartLot | None, entry: Entry, pen: Pen) -> StockMove:
    """Write one move and keep the lot's count with it; call it with the part locked.

    Raises: StockError where the lot would hold less than none.
    """
    if lot is not None and entry.change:
        fresh = PartLot.objects.select_for_update().get(pk=lot.pk)
        if fresh.on_hand + entry.change < 0:
            there = f"Of lot {fresh.code} {fresh.on_hand} {'is' if fresh.on_hand == 1 else 'are'} there by the books"
            raise StockError(f"{there}; {-entry.change} cannot go out. Count the lot if more lie there.", "count")
        fresh.on_hand += entry.change
        fresh._history_user = pen.by  # noqa: SLF001 -- the documented way of simple_history
        fresh.save(update_fields=["on_hand"])
        lot = fresh
    return StockMove.objects.create(
        part=part,
        lot=lot,
        kind=entry.kind,
        change=entry.change,
        reserved=entry.reserved,
        ordered=entry.ordered,
        serials=list(entry.serials),
        job=entry.job,
        event=entry.event,
        corrects=entry.corrects,
        why=entry.why,
        source=pen.source,
        at=pen.now,
        by=pen.by,
    )


def on_order(part: Part) -> int:
    """Return how many pieces are on order."""
    return max(_sum(StockMove.objects.filter(part=part), "ordered"), 0)


def reserved_for(part: Part, job: Job) -> int:
    """Return how many pieces are reserved for a job."""
    return max(_sum(StockMove.objects.filter(part=part, job=job), "reserved"), 0)


def reserved_elsewhere(part: Part, job: Job | None) -> dict[str, int]:
    """Return job number -> pieces reserved for all other jobs."""
    rows = StockMove.objects.filter(part=part, job__isnull=False).values("job__number", "job_id")
    sums = rows.annotate(pieces=Sum("reserved")).order_by("job__number")
    return {
        row["job__number"]: row["pieces"]
        for row in sums
        if row["pieces"] > 0 and row["job_id"] != getattr(job, "pk", 0)
    }


def serials_in(lot: PartLot) -> tuple[set[str], set[str]]:
    """Return the serials that lie in a lot, and those that went out of it."""
    there: set[str] = set()
    gone: set[str] = set()
    for change, serials in lot.moves.order_by("id").values_list("change", "serials"):
        if change > 0:
            there |= set(serials)
            gone -= set(serials)
        elif change < 0:
            there -= set(serials)
            gone |= set(serials)
    return there, gone


def _sum(rows: object, column: str) -> int:
    return int(rows.aggregate(all=Sum(column))["all"] or 0)  # type: ignore[attr-defined] # any query set of moves
