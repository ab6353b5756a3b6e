"""Stock-taking, and putting a wrong move right: both add a move, none is ever changed."""

from __future__ import annotations

from flueproof.shop.records.models import PartLot, StockMove
from flueproof.shop.records.stock.errors import StockError
from flueproof.shop.records.stock.ledger import Entry, Pen, already, locked, on_order, reserved_for, write

MOST = 100_000


def count_lot(lot: PartLot, counted: int, seen: int, why: str, pen: Pen) -> StockMove:
    """Write what was counted; a difference is a move with its reason.

    seen: what the books said when the counting began. Raises: StockError where the books changed meanwhile, or for a
    difference without a reason.
    """
    with locked(lot.part) as part:
        if (first := already(pen)) is not None:
            return first
        fresh = PartLot.objects.select_for_update().get(pk=lot.pk)
        if not 0 <= counted <= MOST:
            raise StockError(f"A count lies between 0 and {MOST}.", "counted")
        if fresh.on_hand != seen:
            raise StockError(
                f"The books said {seen} when you began and say {fresh.on_hand} now: pieces were moved. Count again.",
                "counted",
            )
        change = counted - fresh.on_hand
        if change and not why.strip():
            more = "more" if change > 0 else "fewer"
            raise StockError(f"{abs(change)} {more} than the books say ({seen}). Count again, or say why.", "why")
        return write(part, fresh, Entry("counted", change, why=why.strip()), pen)


def correct(move: StockMove, why: str, pen: Pen) -> StockMove:
    """Undo a move by its opposite, which names it; once. Raises: StockError without a reason, or a second time."""
    with locked(move.part) as part:
        if (first := already(pen)) is not None:
            return first
        if not why.strip():
            raise StockError("Say what was wrong.", "why")
        if move.kind == "corrected":
            raise StockError("A correction is not corrected; write the right move anew.")
        if StockMove.objects.filter(corrects=move).exists():
            raise StockError("This move is put right already.")
        if move.ordered > 0 and on_order(part) < move.ordered:
            raise StockError("What was ordered came already; correct the delivery instead.")
        if move.reserved > 0 and move.job is not None and reserved_for(part, move.job) < move.reserved:
            raise StockError("What was reserved was taken already; correct that instead.")
        entry = Entry(
            "corrected",
            -move.change,
            -move.reserved,
            -move.ordered,
            tuple(move.serials),
            job=move.job,
            corrects=move,
            why=why.strip(),
        )
        return write(part, move.lot, entry, pen)
