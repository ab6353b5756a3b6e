"""A part step at the bench takes its piece off the shelf, in the transaction in which the step is recorded."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any, Final

from flueproof.bench.errors import RecordError
from flueproof.shop.records.models import Analyzer, BenchEvent, Part, PartLot, Person, StockMove, Visit
from flueproof.shop.records.stock.errors import StockError
from flueproof.shop.records.stock.ledger import Pen
from flueproof.shop.records.stock.on_shelf import firmware_question, first_out, refusal_of
from flueproof.shop.records.stock.taking import take_out

FITTING: Final = frozenset({"replaced", "fitted"})


def take_for_step(
    visit: Visit, lot: PartLot, step: dict[str, Any], event: BenchEvent, by: Person, now: datetime
) -> StockMove:
    """Take one piece of a lot for a part step; its serial goes with it.

    Raises: RecordError with the reason (wrong, expired, recalled, none left, reserved for others).
    """
    if step["done"] not in FITTING:
        raise RecordError(
            "$.lot", "a lot belongs to a part that is fitted.", "Choose replaced or fitted, or leave the lot empty."
        )
    serials = (step["serial"],) if step.get("serial") else ()
    try:
        return take_out(lot, 1, visit.job, Pen(by, now), serials=serials, event=event)
    except StockError as error:
        raise RecordError("$.serial" if error.field == "serial" else "$.lot", error.words, "") from error


def questions_of(lot: PartLot, analyzer: Analyzer, day: date) -> list[str]:
    """Return what is asked back once before a lot goes into an analyzer: firmware, and a lot that expires sooner."""
    if refusal_of(lot, analyzer, day):
        return []
    asked = [words] if (words := firmware_question(lot.part, analyzer)) else []
    first = first_out(lot.part, day)
    if first is not None and first.pk != lot.pk:
        asked.append(f"Lot {first.code} expires or came first and should go out before {lot.code}.")
    return asked


def kept_here(what: str, analyzer: Analyzer, day: date) -> PartLot | None:
    """Return the lot of a part with this very name that would fit and should go out first; None where there is none."""
    for part in Part.objects.filter(title__iexact=what.strip(), in_use=True):
        lot = first_out(part, day)
        if lot is not None and not refusal_of(lot, analyzer, day):
            return lot
    return None
