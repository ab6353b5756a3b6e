"""Lots and moves in words."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from flueproof.parts.going_out import expires_soon, why_not
from flueproof.parts.shelf import age_in_words
from flueproof.shop.records.models import PartLot, StockMove
from flueproof.shop.records.stock.on_shelf import last_good, lot_of


@dataclass(frozen=True, slots=True)
class LotRow:
    """One lot: its age, last good day, and what speaks against using it ("" for nothing); tone: good, care, bad."""

    lot: PartLot
    age: str
    good_until: dt.date | None
    against: str
    tone: str


@dataclass(frozen=True, slots=True)
class MoveRow:
    """One move: what happened, and how many pieces more or fewer, with sign."""

    move: StockMove
    pieces: str
    serials: str
    can_be_corrected: bool


def lot_rows(lots: Iterable[PartLot], today: dt.date) -> list[LotRow]:
    """Return lots as rows."""
    return [lot_row(one, today) for one in lots]


def lot_row(lot: PartLot, today: dt.date) -> LotRow:
    """Return a lot as a row."""
    seen = lot_of(lot)
    against = why_not(seen, today) if lot.on_hand or lot.state != "usable" else ""
    soon = not against and expires_soon(seen, today)
    age = age_in_words(lot.made, today) if lot.made else ""
    said = against or ("Expires soon." if soon else "" if lot.on_hand else "Used up.")
    return LotRow(lot, age, last_good(lot), said, "bad" if against else "care" if soon else "good")


def move_rows(moves: Iterable[StockMove]) -> list[MoveRow]:
    """Return moves as rows."""
    rows = list(moves)
    right = set(StockMove.objects.filter(corrects__in=[one.pk for one in rows]).values_list("corrects", flat=True))
    return [
        MoveRow(
            one,
            f"{one.change or one.reserved or one.ordered:+d}".replace("-", "\u2212")
            if one.change or one.reserved or one.ordered
            else "0",
            ", ".join(one.serials),
            one.kind != "corrected" and one.pk not in right,
        )
        for one in rows
    ]
