"""A loan unit in the mail: it leaves once for each loan, whether or not a job is here."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from django.db import transaction

from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.loans.loan import LoanError, firm_now
from flueproof.shop.records.models import Loan, Person, Shipment
from flueproof.shop.records.returning.shipping import (
    Parcel,
    TrackingTakenError,
    add_shipment,
    refuse_taken,
    said_of,
    tidy,
)

SENT: Final = "loan unit sent"


def send_unit(loan: Loan, parcel: Parcel, by: Person, now: datetime) -> Shipment:
    """Let the box of a lent unit leave, and return it; one that is under way or arrived is returned as it is.

    Without an address it goes to the first address on file of whoever borrows.
    Raises: LoanError (the unit is back, no carrier, a number that another parcel has); nothing is written then.
    """
    if not parcel.carrier.strip():
        raise LoanError("Say who carries it; a unit that was handed over at the counter needs no box.")
    with transaction.atomic():
        row: Loan = Loan.objects.select_for_update(of=("self",)).select_related("unit", "owner", "job").get(pk=loan.pk)
        standing = box_of(row)
        if standing is not None:
            return standing
        if row.back_at is not None:
            raise LoanError(f"{row.unit} is back already; lend it again first.")
        number, firm = tidy(parcel.tracking), firm_now(row.owner)
        try:
            refuse_taken(firm, number, same_box=parcel.same_box)
        except TrackingTakenError as error:
            raise LoanError(f"{error}.") from error
        box = add_shipment(row, "loan", parcel, number, parcel.address.strip() or address_of(row), by, now)
        if row.job is not None:
            note_moment(row.job, SENT, by, now, text=f"{row.unit}: {said_of(box)}")
    return box


def box_of(loan: Loan) -> Shipment | None:
    """Return the box in which a unit left for this loan, None where it was handed over or came back undelivered."""
    rows = loan.shipments.filter(way="loan", came_back_at=None)
    found: Shipment | None = rows.order_by("-id").first()
    return found


def address_of(loan: Loan) -> str:
    """Return where a lent unit goes when nobody says otherwise: name and first address of whoever borrows."""
    firm = firm_now(loan.owner)
    at = firm.addresses.order_by("id").first()
    return "\n".join([firm.name, *at.as_lines()]) if at is not None else ""
