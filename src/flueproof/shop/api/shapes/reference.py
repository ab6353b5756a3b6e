"""References as they travel."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from typing import Any

from ninja import Schema
from pydantic import Field

from flueproof.shop.records.gas.litres import Left
from flueproof.shop.records.models import Reference


class LeftOut(Schema):
    """What a cylinder still gives."""

    litres: float | None = Field(description="Free gas above the lowest allowed pressure [L]; null when not known.")
    tests: int | None = Field(description="Whole tests in it.")
    cost: Decimal | None = Field(description="Of one test, in the shop's money.")
    rests_on: str = Field(description="Which gauge reading and count this rests on, in words.")


class ReferenceOut(Schema):
    """A cylinder or another reference; content as in a bench record, format 1."""

    code: str
    version: int
    changed_at: datetime
    kind: str
    title: str
    state: str
    good_until: date | None
    place: str
    content: dict[str, Any]


class ReferenceWithLeft(ReferenceOut):
    """A reference with what is left in it; null where it is no cylinder."""

    left: LeftOut | None


class ReferencesOut(Schema):
    """A page of references."""

    rows: list[ReferenceOut]
    next: str


def reference_out(reference: Reference) -> ReferenceOut:
    """Return a reference as it travels."""
    return ReferenceOut(**_fields(reference))


def reference_with_left(reference: Reference, left: Left | None) -> ReferenceWithLeft:
    """Return a reference with what is left in it."""
    told = LeftOut(litres=left.litres, tests=left.tests, cost=left.cost, rests_on=left.rests_on) if left else None
    return ReferenceWithLeft(**_fields(reference), left=told)


def _fields(reference: Reference) -> dict[str, Any]:
    names = ("code", "version", "changed_at", "kind", "title", "state", "good_until", "place", "content")
    return {name: getattr(reference, name) for name in names}
