"""Owners as they travel."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from ninja import Schema
from pydantic import Field

from flueproof.shop.records.models import Owner

DueRule = Literal["day", "month-end"]
DecisionRule = Literal["risk-2", "simple", "guarded-U", "specific-2"]


class Contact(Schema):
    """A person of an owner."""

    name: str = Field(min_length=1, max_length=120)
    phone: str = Field("", max_length=40)
    email: str = Field("", max_length=254)
    duty: str = Field("", max_length=80, description="What to ask this person for.")


class Address(Schema):
    """An address of an owner."""

    label: str = Field("", max_length=60, description="What it is for.")
    lines: str = Field(min_length=1, description="Street, with line breaks.")
    postcode: str = Field("", max_length=20)
    town: str = Field("", max_length=80)
    region: str = Field("", max_length=80)
    country: str = Field("", max_length=60)


class OwnerNew(Schema):
    """A firm to add."""

    name: str = Field(min_length=1, max_length=200)
    number: str = Field("", max_length=40, description="Customer number.")
    due_agreed: bool = Field(False, description="Wants a due date on papers (ISO/IEC 17025:2017, 7.8.4.3).")
    due_months: int = Field(12, ge=1, le=120)
    due_rule: DueRule = "day"
    decision_rule: DecisionRule = "risk-2"
    call_first: bool = Field(False, description="Call before anything is adjusted when found outside limits.")
    note: str = ""
    contacts: list[Contact] = Field(default=[], max_length=50)
    addresses: list[Address] = Field(default=[], max_length=50)


class OwnerChange(Schema):
    """What to change; fields left out stay. `version`: the one that was seen."""

    version: int = Field(ge=0)
    name: str | None = Field(None, min_length=1, max_length=200)
    number: str | None = Field(None, max_length=40)
    due_agreed: bool | None = None
    due_months: int | None = Field(None, ge=1, le=120)
    due_rule: DueRule | None = None
    decision_rule: DecisionRule | None = None
    call_first: bool | None = None
    note: str | None = None


class OwnerOut(Schema):
    """A firm."""

    id: int
    version: int
    changed_at: datetime
    name: str
    number: str
    due_agreed: bool
    due_months: int
    due_rule: str
    decision_rule: str
    call_first: bool
    note: str
    merged_into: int | None = Field(description="The owner this one was merged into.")
    contacts: list[Contact]
    addresses: list[Address]


class OwnersOut(Schema):
    """A page of firms."""

    rows: list[OwnerOut]
    next: str


def owner_out(owner: Owner) -> OwnerOut:
    """Return an owner as it travels."""
    return OwnerOut(
        id=owner.pk,
        version=owner.version,
        changed_at=owner.changed_at,
        name=owner.name,
        number=owner.number,
        due_agreed=owner.due_agreed,
        due_months=owner.due_months,
        due_rule=owner.due_rule,
        decision_rule=owner.decision_rule,
        call_first=owner.call_first,
        note=owner.note,
        merged_into=owner.merged_into_id,
        contacts=[
            Contact.model_construct(name=row.name, phone=row.phone, email=row.email, duty=row.duty)
            for row in owner.contacts.all()
        ],
        addresses=[
            Address.model_construct(
                label=row.label,
                lines=row.lines,
                postcode=row.postcode,
                town=row.town,
                region=row.region,
                country=row.country,
            )
            for row in owner.addresses.all()
        ],
    )
