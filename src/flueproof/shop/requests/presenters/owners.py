"""Owners on file that a caller may be, while one types; and what is known of one that was chosen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from flueproof.shop.records.finding.searching import search
from flueproof.shop.records.finding.texts import ANALYZER, CONTACT, OWNER
from flueproof.shop.records.intake.asking.on_file import owner_now
from flueproof.shop.records.models import Analyzer, Owner, ServiceRequest

_EACH: Final = 8


@dataclass(frozen=True, slots=True)
class Caller:
    """Who may be calling: the owner, what told it, and the analyzer that was found by its serial, if any."""

    owner: Owner
    fact: str
    analyzer: Analyzer | None = None


def callers(text: str) -> list[Caller]:
    """Return whom a typed text may mean: by a serial first, then by firm, person and phone, each owner once."""
    by_unit: list[Caller] = []
    firms: dict[int, Caller] = {}
    for group in search(text, each=_EACH).groups:
        for hit in group.hits:
            row: Any = hit.row
            if group.kind == ANALYZER:
                by_unit.append(Caller(owner_now(row.owner), f"{row.model} {row.serial}", row))
            elif group.kind == OWNER:
                firm = owner_now(row)
                firms.setdefault(firm.pk, Caller(firm, f"customer number {row.number}" if row.number else ""))
            elif group.kind == CONTACT:
                firm = owner_now(row.owner)
                firms.setdefault(firm.pk, Caller(firm, f"{row.name} {row.phone}".strip()))
    return by_unit + list(firms.values())


def known_of(owner: Owner) -> dict[str, Any]:
    """Return what a request takes over from an owner on file: firm, first person, first address."""
    person, address = owner.contacts.first(), owner.addresses.first()
    said: dict[str, Any] = {"firm": owner.name}
    if person is not None:
        said |= {"contact": person.name, "phone": person.phone, "email": person.email}
    if address is not None:
        said |= {name: getattr(address, name) for name in ("lines", "postcode", "town", "region", "country")}
    return said


def owners_like(request: ServiceRequest) -> list[Caller]:
    """Return owners on file that a request may be from: by its firm, its e-mail, its phone; each once."""
    found: dict[int, Caller] = {}
    for text in (request.firm, request.email, request.phone):
        for one in callers(text.strip()[:80]) if text.strip() else []:
            found.setdefault(one.owner.pk, one)
    return list(found.values())[:_EACH]
