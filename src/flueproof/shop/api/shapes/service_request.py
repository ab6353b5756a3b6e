"""Service requests as they travel."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any, Literal

from ninja import Schema
from pydantic import Field

from flueproof.shop.api.shapes.job import Service
from flueproof.shop.api.shapes.owner import DecisionRule
from flueproof.shop.records.intake.asking.drafts import MOST_ANALYZERS
from flueproof.shop.records.intake.requests import Became
from flueproof.shop.records.models import RequestedAnalyzer, ServiceRequest

RequestState = Literal["draft", "unconfirmed", "confirmed", "taken", "withdrawn"]
Thing = Annotated[str, Field(min_length=1, max_length=60)]


class OwnLimits(Schema):
    """Limits of the owner's own; what is left out stays as usual for the model."""

    co_ppm: float | None = Field(None, ge=0.1, le=1000, description="CO, plus or minus [ppm].")
    co_percent: float | None = Field(None, ge=0.1, le=100, description="CO, plus or minus [% of the gas].")
    o2: float | None = Field(None, ge=0.05, le=5, description="O2, plus or minus [% O2].")


class RequestedNew(Schema):
    """One analyzer that is asked for."""

    make: str = Field("", max_length=80)
    model: str = Field(min_length=1, max_length=80)
    serial: str = Field("", max_length=60, description="Exactly as on the plate; empty where nobody knows it yet.")
    own_number: str = Field("", max_length=60)
    complaint: str = Field("", max_length=2000, description="In the owner's words.")
    used_on: str = Field("", max_length=200)
    accidents: list[Literal["dropped", "wet", "frozen"]] = Field(default=[], max_length=3)
    enclosed: list[Thing] = Field(default=[], max_length=20, description="What is put into the box.")
    service: Service = "verify-adjust"
    spend_up_to: Decimal | None = Field(None, ge=0, max_digits=9, decimal_places=2, description="A repair needs it.")
    limits: OwnLimits | None = Field(None, description="Left out: the usual ones of the model.")
    decision_rule: DecisionRule | None = Field(None, description="Left out: the owner's, else the usual one.")
    as_found: bool = True
    may_set_clock: bool = True
    may_update_firmware: bool = False
    may_clear_memory: bool = False
    due_wanted: bool = False
    due_months: int = Field(12, ge=1, le=60)


class RequestNew(Schema):
    """A request to keep and send.

    `confirmed`: the sender vouches that the owner asked for it; otherwise the owner gets the e-mail to confirm.
    """

    owner: int | None = Field(None, ge=1, lt=2**63, description="Key of the owner, where it is on file.")
    firm: str = Field("", max_length=200)
    contact: str = Field("", max_length=120)
    phone: str = Field("", max_length=40)
    email: str = Field("", max_length=254)
    lines: str = Field("", max_length=1000, description="Return address: street.")
    postcode: str = Field("", max_length=20)
    town: str = Field("", max_length=80)
    region: str = Field("", max_length=80)
    country: str = Field("", max_length=60)
    carrier: str = Field("", max_length=120, description="How it goes back.")
    purchase_order: str = Field("", max_length=60)
    needed_by: date | None = None
    note: str = Field("", max_length=2000)
    analyzers: list[RequestedNew] = Field(min_length=1, max_length=MOST_ANALYZERS)
    confirmed: bool = False


class Withdrawal(Schema):
    """Why a request is withdrawn; kept in its history."""

    why: str = Field(min_length=1, max_length=100)


class JobsWanted(Schema):
    """Which jobs to open for a request."""

    owner: int | None = Field(None, ge=1, lt=2**63, description="Key of the owner it is from, where that is known.")
    add: list[str] = Field(default=[], max_length=MOST_ANALYZERS, description="Slips of analyzers to put on file now.")


class RequestedOut(Schema):
    """One analyzer that is asked for; `slip`: the code of its box slip."""

    slip: str
    make: str
    model: str
    serial: str
    own_number: str
    complaint: str
    used_on: str
    accidents: list[str]
    enclosed: list[str]
    service: str
    spend_up_to: str | None = Field(description="A sum in the currency of the shop.")
    limits: Any = Field(description='"profile", or the owner\'s own limits per channel.')
    decision_rule: str
    as_found: bool
    may_set_clock: bool
    may_update_firmware: bool
    may_clear_memory: bool
    due_wanted: bool
    due_months: int
    analyzer: int | None = Field(description="Key of the analyzer, once it is known which one it is.")
    job: str | None = Field(description="Number of its job, once it has one.")


class RequestOut(Schema):
    """A service request."""

    code: str
    version: int
    changed_at: datetime
    state: str
    source: str
    owner: int | None
    firm: str
    contact: str
    phone: str
    email: str
    lines: str
    postcode: str
    town: str
    region: str
    country: str
    carrier: str
    purchase_order: str
    needed_by: date | None
    note: str
    made_at: datetime
    sent_at: datetime | None
    confirmed_at: datetime | None
    analyzers: list[RequestedOut]


class RequestsOut(Schema):
    """A page of service requests."""

    rows: list[RequestOut]
    next: str


class BecameOut(Schema):
    """What became of one requested analyzer."""

    slip: str
    how: str = Field(description="opened, before, here, other-owner, reported or left.")
    job: str | None
    words: str


class BecameListOut(Schema):
    """What became of the analyzers of a request."""

    rows: list[BecameOut]


_OF_REQUEST = [name for name in RequestOut.model_fields if name not in {"owner", "analyzers"}]
_OF_ANALYZER = [name for name in RequestedOut.model_fields if name not in {"spend_up_to", "analyzer", "job"}]


def request_out(row: ServiceRequest) -> RequestOut:
    """Return a request as it travels, with its analyzers in the order in which they were added."""
    analyzers = sorted(row.analyzers.all(), key=lambda one: one.pk)
    plain = {name: getattr(row, name) for name in _OF_REQUEST}
    return RequestOut(**plain, owner=row.owner_id, analyzers=[_requested(one) for one in analyzers])


def became_out(became: list[Became]) -> BecameListOut:
    """Return what became of the analyzers of a request as it travels."""
    rows = [
        BecameOut(slip=one.requested.slip, how=one.how, job=one.job.number if one.job else None, words=one.words)
        for one in became
    ]
    return BecameListOut(rows=rows)


def _requested(one: RequestedAnalyzer) -> RequestedOut:
    return RequestedOut(
        **{name: getattr(one, name) for name in _OF_ANALYZER},
        spend_up_to=None if one.spend_up_to is None else str(one.spend_up_to),
        analyzer=one.analyzer_id,
        job=one.job.number if one.job else None,
    )
