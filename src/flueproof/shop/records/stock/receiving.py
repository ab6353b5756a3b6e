"""Parts come in: a lot with its age and its certificate."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any, cast

from django.db import transaction
from django.utils import timezone

from flueproof.parts.shelf import last_good_day
from flueproof.shop.records.keeping.blobs import keep_blob
from flueproof.shop.records.models import Part, PartLot, StockMove
from flueproof.shop.records.stock.errors import StockError
from flueproof.shop.records.stock.ledger import Entry, Pen, already, locked, on_order, serials_in, write
from flueproof.shop.records.stock.on_shelf import last_good


@dataclass(frozen=True, slots=True)
class Delivery:
    """What came: pieces of one lot. certificate: file name, content and media type, None where there is none."""

    lot: str
    count: int
    made: date | None = None
    expires: date | None = None
    serials: tuple[str, ...] = ()
    certificate: tuple[str, bytes, str] | None = None


def receive(part: Part, came: Delivery, pen: Pen) -> StockMove:
    """Put a delivery on the shelf; what was on order becomes less by it.

    Raises: StockError for a lot without an age, from the future, past its day, or unlike what it was received as.
    """
    with locked(part) as held:
        if (first := already(pen)) is not None:
            return first
        day = timezone.localtime(pen.now).date()
        _refuse(held, came, day)
        lot: Any = held.lots.filter(code__iexact=came.lot).first() or PartLot(part=held, code=came.lot, received_on=day)
        _age(lot, came)
        _refuse_serials(lot, came)
        if came.certificate is not None:
            name, content, media = came.certificate
            lot.certificate, lot.certificate_name = keep_blob(content, media, pen.now), name[:160]
        lot._history_user = pen.by  # noqa: SLF001 -- the documented way of simple_history
        lot.save()
        arrived = min(came.count, on_order(held))
        return write(held, lot, Entry("received", came.count, ordered=-arrived, serials=came.serials), pen)


def _refuse(part: Part, came: Delivery, day: date) -> None:
    if came.count < 1:
        raise StockError("At least one piece comes in.", "count")
    if came.made is not None and came.made > day:
        raise StockError("This day has not come yet; parts are not made in the future.", "made")
    if came.made is not None and came.expires is not None and came.expires < came.made:
        raise StockError("It would expire before it was made.", "expires")
    known = part.lots.filter(code__iexact=came.lot).first()
    good = last_good_day(came.made, part.shelf_months, came.expires) or (last_good(known) if known else None)
    if part.shelf_months is not None and good is None:
        raise StockError(
            f"{part.title} ages from manufacture, not from fitting: give the day it was made, or the day printed.",
            "made",
        )
    if good is not None and good < day:
        field = "expires" if came.expires is not None else "made"
        raise StockError(f"This lot was good until {good:%d %b %Y}. Do not take it in; send it back.", field)


def _age(lot: PartLot, came: Delivery) -> None:
    """Take over the days of a new lot; a known one keeps its own."""
    for field, given in (("made", came.made), ("expires", came.expires)):
        had = getattr(lot, field)
        if given is None:
            continue
        if lot.pk is not None and had is not None and had != given:
            raise StockError(
                f"Lot {lot.code} is on the shelf with {had:%d %b %Y} here. Look at the package again.", field
            )
        setattr(lot, field, given)


def _refuse_serials(lot: PartLot, came: Delivery) -> None:
    if len(set(came.serials)) != len(came.serials):
        raise StockError("A serial number stands twice.", "serials")
    if came.serials and len(came.serials) != came.count:
        raise StockError(f"{len(came.serials)} serial numbers for {came.count} pieces: give all or none.", "serials")
    if lot.pk is not None and (twice := serials_in(lot)[0] & set(came.serials)):
        raise StockError(f"Serial {min(twice)} lies in this lot already.", "serials")


def set_state(lot: PartLot, state: str, why: str, pen: Pen) -> PartLot:
    """Bar a lot (recalled, set aside) or make it usable again; what is fitted already is found by its moves.

    Raises: StockError without a reason.
    """
    if state != "usable" and not why.strip():
        raise StockError("Say why: whoever scans the lot reads it.", "why")
    with transaction.atomic():
        row: Any = PartLot.objects.select_for_update().get(pk=lot.pk)
        row.state, row.why = state, why.strip() if state != "usable" else ""
        row._history_user = pen.by  # noqa: SLF001 -- the documented way of simple_history
        row.save(update_fields=["state", "why"])
    return cast("PartLot", row)
