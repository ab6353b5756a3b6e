"""Parts go out for a job, come back, or are thrown away."""

from __future__ import annotations

from datetime import date

from django.utils import timezone

from flueproof.shop.records.models import BenchEvent, Job, Part, PartLot, StockMove
from flueproof.shop.records.stock.errors import StockError
from flueproof.shop.records.stock.ledger import (
    Entry,
    Pen,
    already,
    locked,
    reserved_elsewhere,
    reserved_for,
    serials_in,
    write,
)
from flueproof.shop.records.stock.on_shelf import refusal_of, usable


def take_out(
    lot: PartLot,
    count: int,
    job: Job | None,
    pen: Pen,
    *,
    serials: tuple[str, ...] = (),
    event: BenchEvent | None = None,
    why: str = "",
) -> StockMove:
    """Take pieces of a lot out, for a job or (with a reason) for something else; what was reserved for it is used up.

    Raises: StockError: expired, recalled, wrong for this analyzer, not there, or reserved for others.
    """
    with locked(lot.part) as part:
        if (first := already(pen)) is not None:
            return first
        fresh = _fresh(lot)
        day = timezone.localtime(pen.now).date()
        if count < 1:
            raise StockError("At least one piece goes out.", "count")
        if job is None and not why.strip():
            raise StockError("Say for which job, or what for.", "job")
        refused = refusal_of(fresh, job.analyzer if job else None, day)
        if refused:
            raise StockError(refused, "lot")
        _refuse_serials(fresh, serials, count)
        _refuse_others(part, count, job, day)
        freed = min(count, reserved_for(part, job)) if job else 0
        entry = Entry("taken", -count, reserved=-freed, serials=serials, job=job, event=event, why=why.strip())
        return write(part, fresh, entry, pen)


def put_back(
    lot: PartLot, count: int, job: Job | None, pen: Pen, *, serials: tuple[str, ...] = (), why: str = ""
) -> StockMove:
    """Put unused pieces back into their lot. Raises: StockError where more would come back than went out."""
    with locked(lot.part) as part:
        if (first := already(pen)) is not None:
            return first
        fresh = _fresh(lot)
        if count < 1:
            raise StockError("At least one piece comes back.", "count")
        out = out_of(fresh, job)
        if count > out:
            whose = f" for {job.number}" if job else ""
            raise StockError(f"Only {out} of lot {fresh.code} went out{whose}; {count} cannot come back.", "count")
        if not set(serials) <= serials_in(fresh)[1]:
            raise StockError("This serial did not go out of this lot.", "serial")
        return write(part, fresh, Entry("put-back", count, serials=serials, job=job, why=why.strip()), pen)


def throw_away(lot: PartLot, count: int, pen: Pen, why: str) -> StockMove:
    """Take pieces off the shelf for good: expired, damaged, sent back. Raises: StockError without a reason."""
    with locked(lot.part) as part:
        if (first := already(pen)) is not None:
            return first
        if count < 1:
            raise StockError("At least one piece.", "count")
        if not why.strip():
            raise StockError("Say why it leaves the shelf.", "why")
        return write(part, _fresh(lot), Entry("thrown-away", -count, why=why.strip()), pen)


def out_of(lot: PartLot, job: Job | None) -> int:
    """Return how many pieces went out of a lot and did not come back, for a job or for all."""
    moves = lot.moves.filter(kind__in=("taken", "put-back", "corrected"))
    moves = moves.filter(job=job) if job is not None else moves
    rows = moves.values_list("kind", "change", "corrects__kind")
    return -sum(change for kind, change, was in rows if kind != "corrected" or was in {"taken", "put-back"})


def _fresh(lot: PartLot) -> PartLot:
    row: PartLot = PartLot.objects.select_related("part").get(pk=lot.pk)
    return row


def _refuse_serials(lot: PartLot, serials: tuple[str, ...], count: int) -> None:
    there, gone = serials_in(lot)
    for serial in serials:
        if serial in gone:
            raise StockError(f"Serial {serial} of lot {lot.code} went out before.", "serial")
        if there and serial not in there:
            known = ", ".join(sorted(there)[:6])
            raise StockError(
                f"Serial {serial} is not in lot {lot.code}; in it are {known}. Read the plate again.", "serial"
            )
    if len(serials) > count or len(set(serials)) != len(serials):
        raise StockError("More serial numbers than pieces, or one twice.", "serial")


def _refuse_others(part: Part, count: int, job: Job | None, day: date) -> None:
    others = reserved_elsewhere(part, job)
    free = usable(part, day) - sum(others.values())
    if others and count > free:
        whose = ", ".join(f"{number} ({pieces})" for number, pieces in others.items())
        raise StockError(f"What is left is reserved: {whose}. Let it go there first.", "count")
