"""Owners as an import sees them: those on file, read a batch at a time, and those the list itself brings."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from flueproof.shop.records.importing.understanding.said import Said
from flueproof.shop.records.keeping.plate_key import name_key, phone_key
from flueproof.shop.records.models import Owner, OwnerAddress, OwnerContact


@dataclass(slots=True)
class Firm:
    """One owner: on file (`pk`), or first named by a row of the list (`row`).

    contacts: key of the name -> (phone key, e-mail in lower case); addresses: what for -> the address as one text.
    """

    name: str
    number: str
    pk: int | None = None
    row: int = 0
    due_agreed: bool = False
    contacts: dict[str, tuple[str, str]] = field(default_factory=dict)
    addresses: dict[str, str] = field(default_factory=dict)


class OwnerUnclearError(ValueError):
    """A row whose owner cannot be told apart; the text says why."""


class Firms:
    """All firms that the rows so far can mean."""

    def __init__(self) -> None:
        self._by_name: dict[str, list[Firm]] = {}
        self._by_number: dict[str, Firm] = {}
        self._by_pk: dict[int, Firm] = {}
        self._asked: set[tuple[str, str]] = set()

    def read(self, rows: Iterable[Said]) -> None:
        """Read the owners on file that these rows may mean, with their people and addresses."""
        asked = set[tuple[str, str]]()
        for said in rows:
            asked |= {("name", name_key(said.text("owner_name"))), ("number", said.text("owner_number"))}
        asked -= self._asked | {("name", ""), ("number", "")}
        self._asked |= asked
        names = [text for kind, text in asked if kind == "name"]
        numbers = [text for kind, text in asked if kind == "number"]
        found = list(Owner.objects.filter(name_key__in=names)) if names else []
        found += list(Owner.objects.filter(number__in=numbers)) if numbers else []
        fresh: list[Firm] = []
        for owner in found:
            self._admit(owner, fresh)
        _read_people({firm.pk: firm for firm in fresh if firm.pk is not None})

    def _admit(self, owner: Owner, fresh: list[Firm]) -> None:
        key, number = owner.name_key, owner.number
        while owner.merged_into is not None:  # the name that was given up still leads to the firm
            owner = owner.merged_into
        firm = self._by_pk.get(owner.pk)
        if firm is None:
            firm = Firm(owner.name, owner.number, owner.pk, due_agreed=owner.due_agreed)
            self._by_pk[owner.pk] = firm
            fresh.append(firm)
        for one in {key, owner.name_key}:
            named = self._by_name.setdefault(one, [])
            if firm not in named:
                named.append(firm)
        for one in {number, owner.number} - {""}:
            self._by_number.setdefault(one, firm)

    def add(self, said: Said) -> Firm:
        """Take the firm that this row names as a new one."""
        agreed = bool(said.values.get("due_agreed"))
        firm = Firm(said.text("owner_name"), said.text("owner_number"), row=said.number, due_agreed=agreed)
        self._by_name.setdefault(name_key(firm.name), []).append(firm)
        if firm.number:
            self._by_number[firm.number] = firm
        return firm

    def meant_by(self, said: Said) -> Firm | None:
        """Return the firm a row means, None when it is one that is not known yet. Raises: OwnerUnclearError."""
        name, number = said.text("owner_name"), said.text("owner_number")
        by_number = self._by_number.get(number) if number else None
        named = self._by_name.get(name_key(name), []) if name else []
        if by_number is not None:
            if named and by_number not in named:
                raise OwnerUnclearError(f"Customer number {number} is {by_number.name}, not {name}")
            return by_number
        if number:
            named = [firm for firm in named if not firm.number] or _other_number(named, name, number)
        if len(named) > 1:
            raise OwnerUnclearError(f"There are {len(named)} owners called {name}; the customer number must tell which")
        if not named and not name:
            raise OwnerUnclearError(
                f"No owner has the customer number {number}, and no name is given" if number else "There is no owner"
            )
        return named[0] if named else None


def _other_number(named: list[Firm], name: str, number: str) -> list[Firm]:
    if named:
        raise OwnerUnclearError(
            f"{name} has the customer number {named[0].number}, here it is {number}; make one of them right"
        )
    return named


def _read_people(firms: dict[int, Firm]) -> None:
    if not firms:
        return
    for contact in OwnerContact.objects.filter(owner__in=firms):
        firms[contact.owner_id].contacts[name_key(contact.name)] = contact.phone_key, contact.email.lower()
    for address in OwnerAddress.objects.filter(owner__in=firms):
        firms[address.owner_id].addresses[name_key(address.label)] = address_text(
            address.lines, address.town, address.region, address.postcode, address.country
        )


def address_text(*parts: str) -> str:
    """Return an address for comparing: signs, capitals and lines do not count."""
    return name_key(" ".join(parts))


def contact_keys(said: Said) -> tuple[str, str]:
    """Return phone and e-mail of a row for comparing."""
    return phone_key(said.text("contact_phone")), said.text("contact_email").lower()
