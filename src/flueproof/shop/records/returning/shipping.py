"""Boxes on their way: by whom, under which number, when they left, arrived, or came back undelivered."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

from django.db import transaction

from flueproof.shop.records.jobs.moving import MoveRefusedError, move_job, note_moment
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import Job, Loan, Owner, Person, Shipment
from flueproof.shop.records.returning.leaving import refuse_to_leave

DELIVERED, CAME_BACK = "delivered there", "came back undelivered"
CARRIER_LENGTH: Final = 80


class ShippingError(MoveRefusedError):
    """What cannot be with a box that travels; the message says why and what to do."""


class TrackingTakenError(ShippingError):
    """A number on the parcel that another job's box travels under; `shipment` is that one."""

    def __init__(self, message: str, shipment: Shipment) -> None:
        super().__init__(message)
        self.shipment = shipment


@dataclass(frozen=True, slots=True)
class Parcel:
    """What is written down of a box that leaves. same_box: two analyzers of one owner travel in one parcel."""

    carrier: str
    tracking: str = ""
    address: str = ""
    note: str = ""
    same_box: bool = False


def ship(job: Job, parcel: Parcel, by: Person, now: datetime, why: str = "") -> Shipment:
    """Let the box leave for its owner; a box that is on its way already stays as it is.

    why: written reason where something safe stands against leaving.
    Raises: ShippingError, MoveRefusedError; nothing is written then.
    """
    if not parcel.carrier.strip():
        raise ShippingError("Say who carries it, or hand it out at the counter")
    with transaction.atomic():
        row: Job = Job.objects.select_for_update().select_related("owner", "analyzer").get(pk=job.pk)
        if row.state == "shipped" and (standing := under_way(row)) is not None:
            return standing
        if row.state != "to-return":
            raise ShippingError(f"{row.number} is {row.get_state_display()!r}; only a box that is to go back is sent")
        number = tidy(parcel.tracking)
        refuse_taken(row.owner, number, same_box=parcel.same_box, but_of=row)
        refuse_to_leave(row, why, by, now)
        address = parcel.address.strip() or row.return_address.strip()
        shipment = add_shipment(row, "back", parcel, number, address, by, now)
        move_job(row, "shipped", by, now, why=said_of(shipment))
        row.refresh_from_db()
        write_letter("shipped", job=row, by=by, now=now, extra={"carrier": shipment.carrier, "tracking": number})
    return shipment


def delivered(shipment: Shipment, to: str, by: Person | None, now: datetime, at: datetime | None = None) -> Shipment:
    """Keep that a box arrived; one on its way to its owner closes the job with it. Said again it changes nothing.

    to: who took it in, where known; at: when, now where not given. Raises: ShippingError.
    """
    with transaction.atomic():
        row = _locked(shipment)
        if row.delivered_at is not None:
            return row
        when = at or now
        if row.came_back_at is not None:
            raise ShippingError("This box came back undelivered; the next one it leaves with is another")
        if when > now or when < row.left_at:
            raise ShippingError("It arrives after it left, and not in the future: correct day and hour")
        row.delivered_at, row.delivered_to = when, to.strip()[:120]
        _save(row, by)
        said = f"{said_of(row)}{f', taken in by {row.delivered_to}' if row.delivered_to else ''}"
        if row.job is None:
            return row
        if row.way == "back":
            job = move_job(row.job, "returned", by, now, why=f"delivered: {said}")
            write_letter("delivered", job=job, by=by, now=now)
        else:
            note_moment(row.job, DELIVERED, by, now, text=said)
    return row


def came_back(shipment: Shipment, why: str, by: Person, now: datetime) -> Shipment:
    """Keep that a box came back undelivered: its job is to go back again, and somebody asks the owner where to.

    Raises: ShippingError.
    """
    if not why.strip():
        raise ShippingError("Say why it came back, as the carrier says it")
    with transaction.atomic():
        row = _locked(shipment)
        if row.came_back_at is not None:
            return row
        if row.delivered_at is not None:
            raise ShippingError("This box was delivered; what comes back after that is a new job")
        row.came_back_at = now
        row.note = f"{row.note}\n{why.strip()}".strip()
        _save(row, by)
        if row.job is None:
            return row
        note_moment(row.job, CAME_BACK, by, now, text=f"{said_of(row)}: {why.strip()}")
        if row.way == "back" and row.job.state == "shipped":
            move_job(row.job, "to-return", by, now, why="came back undelivered", waits_for="the right address")
    return row


def under_way(job: Job) -> Shipment | None:
    """Return the shipment in which a job's box travels to its owner, None where it does not."""
    rows = job.shipments.filter(way="back", delivered_at=None, came_back_at=None)
    found: Shipment | None = rows.order_by("-id").first()
    return found


def on_their_way() -> list[Shipment]:
    """Return all boxes that left and are not there yet, the longest on the way first."""
    rows = Shipment.objects.filter(delivered_at=None, came_back_at=None)
    return list(
        rows.select_related("job__owner", "job__analyzer", "loan__owner", "loan__unit").order_by("left_at", "id")
    )


def add_shipment(
    whose: Job | Loan, way: str, parcel: Parcel, number: str, address: str, by: Person, now: datetime
) -> Shipment:
    """Keep a box that leaves, of a job or of a loan; the caller has refused what must be refused."""
    job, loan = (whose.job, whose) if isinstance(whose, Loan) else (whose, None)
    shipment = Shipment(
        job=job,
        loan=loan,
        way=way,
        carrier=parcel.carrier.strip()[:CARRIER_LENGTH],
        tracking=number,
        address=address,
        note=parcel.note.strip(),
        left_at=now,
        sent_by=by,
    )
    _save(shipment, by)
    return shipment


def tidy(tracking: str) -> str:
    """Return a number on a parcel as it is kept: capitals, no spaces, so that the same one is found again."""
    return "".join(tracking.split()).upper()[:80]


def said_of(shipment: Shipment) -> str:
    """Return carrier and number in words."""
    return f"{shipment.carrier} {shipment.tracking}".strip()


def refuse_taken(owner: Owner, number: str, *, same_box: bool, but_of: Job | None = None) -> None:
    """Refuse a number that another box travels under; carriers give one anew after it was delivered.

    same_box: two things of one owner travel in one parcel; but_of: the job whose own box it is.
    Raises: TrackingTakenError.
    """
    if not number:
        return
    rows = Shipment.objects.filter(tracking=number, delivered_at=None, came_back_at=None)
    rows = rows.exclude(job=but_of) if but_of is not None else rows
    other = rows.select_related("job__owner", "loan__owner", "loan__unit").order_by("-id").first()
    if other is None:
        return
    if owner_of(other).pk != owner.pk:
        said = f"{number} is on the parcel of {named(other)}, of {owner_of(other)}. Read the label again"
        raise TrackingTakenError(said, other)
    if not same_box:
        said = f"{number} is on the parcel of {named(other)} already. Is it one box with both? Then tick that"
        raise TrackingTakenError(said, other)


def owner_of(shipment: Shipment) -> Owner:
    """Return whose box it is: of a loan whoever borrows, else the owner of the job."""
    source = shipment.loan or shipment.job
    if source is None:
        raise ValueError(f"shipment {shipment.pk} belongs to nothing")
    owner: Owner = source.owner
    return owner


def named(shipment: Shipment) -> str:
    """Return what travels in it, as people call it: the loan unit, or the number of the job."""
    return shipment.loan.unit.name if shipment.loan is not None else str(shipment.job)


def _locked(shipment: Shipment) -> Shipment:
    row: Shipment = (
        Shipment.objects.select_for_update(of=("self",)).select_related("job__owner", "loan__owner").get(pk=shipment.pk)
    )
    return row


def _save(row: Any, by: Person | None) -> None:
    row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
    row.save()
