"""Writing what rows bring: a batch at a time, with history that names the import, and with search keys."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from typing import Any, Final

from flueproof.shop.records.finding.indexing import reindex
from flueproof.shop.records.importing.understanding.findings import Finding, contact_name
from flueproof.shop.records.importing.understanding.firms import Firm
from flueproof.shop.records.importing.understanding.said import Said
from flueproof.shop.records.keeping.plate_key import name_key, phone_key
from flueproof.shop.records.models import Analyzer, Obligation, Owner, OwnerAddress, OwnerContact, Person

MADE: Final = {
    "owners": Owner,
    "contacts": OwnerContact,
    "addresses": OwnerAddress,
    "analyzers": Analyzer,
    "obligations": Obligation,
}
_WHY_LONGEST: Final = 100


class Writer:
    """Makes rows in the database and remembers which; `made`: name in MADE -> spans of keys, both ends in it."""

    def __init__(self, by: Person, why: str, now: dt.datetime) -> None:
        """Take the person, and what the history says of each new row."""
        self.by, self.why, self.now = by, why[:_WHY_LONGEST], now
        self.made: dict[str, list[list[int]]] = {name: [] for name in MADE}

    def write(self, findings: Iterable[Finding]) -> None:
        """Make what these findings bring; owners first, since the others stand on them."""
        wanted = [(finding, finding.firm) for finding in findings if finding.makes and finding.firm is not None]
        owners = [(firm, _owner(finding.said)) for finding, firm in wanted if "owner" in finding.makes]
        self._make("owners", [row for _, row in owners])
        for firm, row in owners:
            firm.pk = row.pk
        self._make(
            "contacts",
            [
                _contact(finding.said, _key(firm), contact_name(finding.said, firm))
                for finding, firm in wanted
                if "contact" in finding.makes
            ],
        )
        self._make(
            "addresses", [_address(finding.said, _key(firm)) for finding, firm in wanted if "address" in finding.makes]
        )
        units = [
            (finding, _analyzer(finding.said, _key(firm))) for finding, firm in wanted if "analyzer" in finding.makes
        ]
        self._make("analyzers", [row for _, row in units])
        due = [_obligation(finding.said, row.pk) for finding, row in units if "due" in finding.makes]
        self._make("obligations", due)

    def _make(self, name: str, rows: list[Any]) -> None:
        if not rows:
            return
        MADE[name].objects.bulk_create_by(rows, self.by, self.why, self.now)
        reindex(rows)
        spans = self.made[name]
        for key in sorted(row.pk for row in rows):
            if spans and spans[-1][1] == key - 1:
                spans[-1][1] = key
            else:
                spans.append([key, key])


def _key(firm: Firm) -> int:
    if firm.pk is None:
        raise LookupError(f"{firm.name} was not written before what belongs to it")
    return firm.pk


def _owner(said: Said) -> Owner:
    name = said.text("owner_name")
    return Owner(
        name=name,
        name_key=name_key(name),
        number=said.text("owner_number"),
        due_agreed=bool(said.values.get("due_agreed")),
        note=said.text("owner_note"),
    )


def _contact(said: Said, owner: int, name: str) -> OwnerContact:
    phone = said.text("contact_phone")
    return OwnerContact(
        owner_id=owner,
        name=name,
        phone=phone,
        phone_key=phone_key(phone),
        email=said.text("contact_email"),
        duty=said.text("contact_duty"),
    )


def _address(said: Said, owner: int) -> OwnerAddress:
    lines = "\n".join(filter(None, (said.text("address_lines"), said.text("address_more"))))
    names = ("postcode", "town", "region", "country")
    return OwnerAddress(
        owner_id=owner, label=said.text("address_label"), lines=lines, **{name: said.text(name) for name in names}
    )


def _analyzer(said: Said, owner: int) -> Analyzer:
    row = Analyzer(
        owner_id=owner,
        make=said.text("make"),
        model=said.text("model"),
        serial=said.text("serial"),
        firmware=said.text("firmware"),
        note=said.text("analyzer_note"),
    )
    if profile := said.text("profile"):
        row.profile = profile
    row.fill_keys()
    return row


def _obligation(said: Said, analyzer: int) -> Obligation:
    given = {name: said.values[name] for name in ("last_done", "next_due", "months") if name in said.values}
    months = given.get("months", 12)
    what = "yearly verification" if months == 12 else f"verification every {months} months"
    return Obligation(analyzer_id=analyzer, what=what, agreed_by=said.text("agreed_by"), **given)
