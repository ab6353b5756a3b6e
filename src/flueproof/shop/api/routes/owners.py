"""Owners: list, one, add, change."""

from __future__ import annotations

from typing import Annotated, Any

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from ninja import Query, Router

from flueproof.shop.api.answers import answers, missing
from flueproof.shop.api.changing import carry_on, change, checked
from flueproof.shop.api.once import once
from flueproof.shop.api.paging import Paging, page_of
from flueproof.shop.api.shapes.owner import OwnerChange, OwnerNew, OwnerOut, OwnersOut, owner_out
from flueproof.shop.api.token_door import BearerToken, person_on
from flueproof.shop.records.jobs.order_change import carry_owner
from flueproof.shop.records.models import Owner, OwnerAddress, OwnerContact

router = Router(tags=["owners"])


@router.get("", response=answers(OwnersOut), auth=BearerToken("see-jobs"))
def list_owners(
    request: HttpRequest,  # noqa: ARG001 -- ninja passes it
    paging: Paging,
    number: Annotated[str | None, Query(max_length=40)] = None,
) -> OwnersOut:
    """List owners by key; `number` is a customer number."""
    rows = Owner.objects.prefetch_related("contacts", "addresses")
    page, after = page_of(rows if number is None else rows.filter(number=number), paging)
    return OwnersOut(rows=[owner_out(row) for row in page], next=after)


@router.post("", response=answers(OwnerOut, 201), auth=BearerToken("change-owners"))
def add_owner(request: HttpRequest, body: OwnerNew) -> HttpResponse:
    """Add an owner with its people and addresses."""
    return once(request, 201, lambda: owner_out(_add(body)))


@router.get("/{int:owner}", response=answers(OwnerOut), auth=BearerToken("see-jobs"))
def one_owner(request: HttpRequest, owner: int) -> OwnerOut:  # noqa: ARG001 -- ninja passes it
    """Return one owner."""
    return owner_out(_owner(owner))


@router.patch("/{int:owner}", response=answers(OwnerOut), auth=BearerToken("change-owners"))
def change_owner(request: HttpRequest, owner: int, body: OwnerChange) -> OwnerOut:
    """Change an owner whose `version` is still the one seen; open bench records follow."""
    wanted, person = body.model_dump(exclude={"version"}, exclude_none=True), person_on(request)
    with transaction.atomic():
        row = change(_owner(owner), body.version, wanted, person, _shape)
        carry_on(carry_owner, row, person)
    return owner_out(row)


def _add(body: OwnerNew) -> Owner:
    with transaction.atomic():
        row = Owner(**body.model_dump(exclude={"contacts", "addresses"}))
        checked(row)
        row.save()
        for contact in body.contacts:
            _save(OwnerContact(owner=row, **contact.model_dump()))
        for address in body.addresses:
            _save(OwnerAddress(owner=row, **address.model_dump()))
    return row


def _save(row: OwnerContact | OwnerAddress) -> None:
    checked(row)
    row.save()


def _owner(key: int) -> Owner:
    row: Owner | None = Owner.objects.filter(pk=key).first() if key < 2**63 else None
    if row is None:
        raise missing("owner", key)
    return row


def _shape(row: Any) -> dict[str, Any]:
    return owner_out(row).model_dump(mode="json")
