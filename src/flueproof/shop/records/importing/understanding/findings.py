"""What each row of a list would do: something new, nothing since it is there, or not to be done, with the reason."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from flueproof.shop.records.importing.reading.table import Row
from flueproof.shop.records.importing.understanding.columns import Understanding
from flueproof.shop.records.importing.understanding.fields import ADDRESS, ANALYZER, BY_NAME, CONTACT, DUE
from flueproof.shop.records.importing.understanding.firms import (
    Firm,
    Firms,
    OwnerUnclearError,
    address_text,
    contact_keys,
)
from flueproof.shop.records.importing.understanding.said import Said, what_row_says
from flueproof.shop.records.importing.understanding.units import Unit, Units
from flueproof.shop.records.keeping.plate_key import name_key

NEW, ADDS, THERE, REPEATED, DIFFERS, LOOKALIKE, WAITING, ERROR = (
    "new",
    "adds",
    "there",
    "repeated",
    "differs",
    "lookalike",
    "waiting",
    "error",
)
KINDS: Final = (NEW, ADDS, THERE, REPEATED, DIFFERS, LOOKALIKE, WAITING, ERROR)
_OF_ANALYZER: Final = frozenset(one.name for one in BY_NAME.values() if one.group in {ANALYZER, DUE}) - {"serial"}


@dataclass(slots=True)
class Finding:
    """What one row would do.

    row: as it stands in the list; kind: one of KINDS; why: reasons and differences, in sentences without a full stop;
    firm: its owner; makes: names of what is made: "owner", "contact", "address", "analyzer", "due".
    """

    row: Row
    said: Said
    kind: str = NEW
    why: list[str] = field(default_factory=list)
    firm: Firm | None = None
    makes: set[str] = field(default_factory=set)


class Reader:
    """Understands rows in their order; each sees what is on file and what the rows above bring."""

    def __init__(self, told: Understanding, columns: int, today: dt.date) -> None:
        """Take how the list is read, how many columns its header has, and the day."""
        self.told, self.columns, self.today = told, columns, today
        self._firms, self._units = Firms(), Units()

    def understand(self, rows: Sequence[Row]) -> list[Finding]:
        """Return what these rows would do; call it with one batch after the other."""
        found = [Finding(row, what_row_says(row, self.told, self.columns, self.today)) for row in rows]
        self._firms.read(one.said for one in found)
        self._units.read(one.said for one in found)
        for finding in found:
            self._settle(finding)
        return found

    def _settle(self, finding: Finding) -> None:
        said = finding.said
        if said.errors:
            finding.kind, finding.why = ERROR, list(said.errors)
            return
        if said.waiting:
            finding.kind, finding.why = WAITING, [str(error) for error in said.waiting]
            return
        try:
            finding.firm = self._firms.meant_by(said)
        except OwnerUnclearError as error:
            finding.kind, finding.why = ERROR, [str(error)]
            return
        if said.text("serial"):
            self._settle_analyzer(finding)
        elif any(name in said.texts or name in said.values for name in _OF_ANALYZER):
            finding.kind, finding.why = ERROR, ["There is an analyzer without a serial number"]
        else:
            self._settle_owner(finding, repeated=True)

    def _settle_analyzer(self, finding: Finding) -> None:
        said = finding.said
        same, alike = self._units.like(said)
        if same is not None:
            self._settle_known(finding, same)
            return
        missing = [BY_NAME[name].label for name in ("make", "model") if not said.text(name)]
        if missing:
            finding.kind, finding.why = ERROR, [f"{name} is missing" for name in missing]
            return
        if alike and said.number not in self.told.others:
            listed = "; ".join(one.in_words() for one in alike[:3])
            finding.kind, finding.why = LOOKALIKE, [f"{said.text('serial')} reads like {listed}"]
            firm = finding.firm or Firm(said.text("owner_name"), said.text("owner_number"))
            self._units.add(said, firm, held=True)
            return
        finding.makes.add("analyzer")
        if said.values.keys() & {"last_done", "next_due", "months"}:
            finding.makes.add("due")
        self._settle_owner(finding, repeated=False)
        if finding.firm is not None:
            self._units.add(said, finding.firm)

    def _settle_known(self, finding: Finding, same: Unit) -> None:
        said, firm = finding.said, finding.firm
        if same.held:
            finding.kind, finding.why = REPEATED, [f"Row {same.row} has the same plate, and is not imported"]
            return
        theirs = firm is not None and (firm is same.firm or (firm.pk is not None and firm.pk == same.owner_pk))
        if not theirs:
            finding.kind = DIFFERS if same.pk else ERROR
            finding.why = [f"{same.in_words()} has the same plate, here the owner is {said.text('owner_name')}"]
            return
        for name, there in (("model", same.model), ("firmware", same.firmware)):
            if said.text(name) and name_key(said.text(name)) != name_key(there):
                where = "on file" if same.pk else f"in row {same.row}"
                finding.why.append(f"{BY_NAME[name].label}: {there or 'nothing'} {where}, here {said.text(name)}")
        self._settle_owner(finding, repeated=not same.pk)

    def _settle_owner(self, finding: Finding, *, repeated: bool) -> None:
        """Settle owner, person and address of a row, then its kind. repeated: a row above says the same."""
        said, firm = finding.said, finding.firm
        if firm is None:
            finding.firm = firm = self._firms.add(said)
            finding.makes.add("owner")
        else:
            _compare_owner(finding, firm)
        _settle_contact(finding, firm)
        _settle_address(finding, firm)
        if finding.makes & {"owner", "analyzer"}:
            finding.kind = NEW
        elif finding.makes:
            finding.kind = ADDS
        elif finding.why:
            finding.kind = DIFFERS
        else:
            finding.kind = REPEATED if repeated and firm.row else THERE


def _compare_owner(finding: Finding, firm: Firm) -> None:
    said, where = finding.said, f"in row {firm.row}" if firm.row else "on file"
    if said.text("owner_name") and name_key(said.text("owner_name")) != name_key(firm.name):
        finding.why.append(f"Owner: {firm.name} {where}, here {said.text('owner_name')}")
    if said.text("owner_number") and said.text("owner_number") != firm.number:
        finding.why.append(f"Customer number: {firm.number or 'none'} {where}, here {said.text('owner_number')}")
    if said.values.get("due_agreed", firm.due_agreed) != firm.due_agreed:
        finding.why.append(f"Wants a due date: {'yes' if firm.due_agreed else 'no'} {where}")


def contact_name(said: Said, firm: Firm) -> str:
    """Return how the person of a row is called: by the firm's name where the row has a phone or e-mail alone."""
    return said.text("contact_name") or firm.name[: BY_NAME["contact_name"].longest]


def _settle_contact(finding: Finding, firm: Firm) -> None:
    said = finding.said
    if not any(said.text(name) for name in ("contact_name", "contact_phone", "contact_email")):
        return
    phone, email = contact_keys(said)
    if not said.text("contact_name"):
        reached = {key for pair in firm.contacts.values() for key in pair if key}
        if {phone, email} - {""} <= reached:
            return
    key = name_key(contact_name(said, firm))
    if key not in firm.contacts:
        firm.contacts[key] = phone, email
        finding.makes.add(CONTACT)
        return
    where = f"in row {firm.row}" if firm.row else "on file"
    for label, here, there in zip(("Phone", "E-mail"), (phone, email), firm.contacts[key], strict=True):
        if here and here != there:
            finding.why.append(f"{label} of {contact_name(said, firm)}: {there or 'none'} {where}, here {here}")


def _settle_address(finding: Finding, firm: Firm) -> None:
    said = finding.said
    if not any(said.text(name) for name in ("address_lines", "address_more", "town", "postcode")):
        return
    names = ("address_lines", "address_more", "town", "region", "postcode", "country")
    here, key = address_text(*(said.text(name) for name in names)), name_key(said.text("address_label"))
    if key not in firm.addresses:
        firm.addresses[key] = here
        finding.makes.add(ADDRESS)
    elif firm.addresses[key] != here:
        finding.why.append("Address: another one is " + (f"in row {firm.row}" if firm.row else "on file"))
