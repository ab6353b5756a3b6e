"""What a search found, as it travels."""

from __future__ import annotations

from typing import Final

from ninja import Schema
from pydantic import Field

from flueproof.shop.records.finding.found import Found, Hit
from flueproof.shop.records.finding.texts import ANALYZER, CONTACT, JOB, OWNER, PAPER, REFERENCE

_KEYS: Final = {
    JOB: ("jobs", "number"),
    ANALYZER: ("analyzers", "pk"),
    OWNER: ("owners", "pk"),
    CONTACT: ("owners", "owner_id"),
    PAPER: ("papers", "number"),
    REFERENCE: ("references", "code"),
}


class HitOut(Schema):
    """One row that was found."""

    kind: str = Field(description="owner, contact, analyzer, job, paper or reference.")
    title: str
    path: str = Field(description="Where it stands in this API; a contact leads to its owner.")
    exact: bool = Field(description="The text is the whole number, serial or scan code of this row.")


class FoundOut(Schema):
    """What was found, exact rows first."""

    hits: list[HitOut]
    more: bool = Field(description="There are others; type more of a word.")


class TokenOut(Schema):
    """What a token is and may."""

    name: str
    rights: list[str]
    shop: str


def found_out(found: Found) -> FoundOut:
    """Return a search's result as it travels."""
    hits = [_hit(hit) for group in found.groups for hit in group.hits]
    return FoundOut(hits=hits, more=found.some_only or any(group.more for group in found.groups))


def _hit(hit: Hit) -> HitOut:
    room, key = _KEYS[hit.kind]
    return HitOut(kind=hit.kind, title=str(hit.row), path=f"/{room}/{getattr(hit.row, key)}", exact=hit.exact)
