"""Reserving for a repair, and what is on order."""

from __future__ import annotations

from flueproof.shop.records.models import Job, Part, StockMove
from flueproof.shop.records.stock.errors import StockError
from flueproof.shop.records.stock.ledger import Entry, Pen, already, locked, on_order, reserved_for, write
from flueproof.shop.records.stock.on_shelf import wrong_for

MOST = 10_000


def reserve(part: Part, count: int, job: Job, pen: Pen) -> StockMove:
    """Reserve pieces for a job, there or still to come. Raises: StockError for a wrong part or a job that is over."""
    with locked(part) as held:
        if (first := already(pen)) is not None:
            return first
        _refuse_count(count)
        if job.state not in Job.OPEN:
            raise StockError(f"{job.number} is {job.get_state_display()}; nothing is reserved for it.", "job")
        wrong = wrong_for(held, job.analyzer)
        if wrong:
            raise StockError(wrong, "job")
        return write(held, None, Entry("reserved", reserved=count, job=job), pen)


def let_go(part: Part, job: Job, pen: Pen, why: str = "") -> StockMove | None:
    """Let go of all that is reserved for a job; None where nothing is."""
    with locked(part) as held:
        if (first := already(pen)) is not None:
            return first
        there = reserved_for(held, job)
        return write(held, None, Entry("let-go", reserved=-there, job=job, why=why), pen) if there else None


def order(part: Part, count: int, pen: Pen, why: str = "") -> StockMove:
    """Write down that pieces are on order. Raises: StockError."""
    with locked(part) as held:
        if (first := already(pen)) is not None:
            return first
        _refuse_count(count)
        return write(held, None, Entry("ordered", ordered=count, why=why.strip()), pen)


def drop_order(part: Part, pen: Pen, why: str) -> StockMove:
    """Write down that what is on order will not come. Raises: StockError without a reason, or where nothing is."""
    with locked(part) as held:
        if (first := already(pen)) is not None:
            return first
        open_pieces = on_order(held)
        if not open_pieces:
            raise StockError("Nothing is on order.")
        if not why.strip():
            raise StockError("Say why it will not come.", "why")
        return write(held, None, Entry("order-dropped", ordered=-open_pieces, why=why.strip()), pen)


def _refuse_count(count: int) -> None:
    if not 1 <= count <= MOST:
        raise StockError(f"From 1 to {MOST} pieces.", "count")
