"""Quotes as they travel. Sums are text with two places, so that no cent gets lost on the way."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from typing import Literal

from ninja import Schema
from pydantic import Field

from flueproof.shop.records.models import Quote
from flueproof.shop.records.money.amounts import line_sum, sum_of
from flueproof.shop.records.money.quoting import MOST_LINES

QuoteState = Literal["draft", "sent", "approved", "declined", "expired", "replaced"]


class QuoteLineNew(Schema):
    """One line: of the price list by its `item` code, or in words with a price of its own."""

    item: str = Field(
        "", max_length=40, description="Code of the price list; its words and price stand where left out."
    )
    words: str = Field("", max_length=200)
    count: Decimal = Field(Decimal(1), gt=0, max_digits=7, decimal_places=2)
    price: Decimal | None = Field(None, ge=0, max_digits=9, decimal_places=2, description="Of one piece.")


class QuoteNew(Schema):
    """A quote to write; `send`: send it to the owner at once."""

    words: str = Field("", max_length=4000, description="What is to be done and why.")
    lines: list[QuoteLineNew] = Field(min_length=1, max_length=MOST_LINES)
    send: bool = False


class QuoteDecision(Schema):
    """What the owner said to the shop: who, and in which words."""

    said_by: str = Field(min_length=1, max_length=120)
    words: str = Field("", max_length=2000)


class QuoteLineOut(Schema):
    """One line of a quote; the price stands as it was when it was written."""

    item: str | None
    words: str
    count: str
    price: str
    sum: str


class QuoteOut(Schema):
    """A quote. A changed one is a new one that names the old."""

    number: str
    version: int
    changed_at: datetime
    job: str
    state: str
    currency: str
    words: str
    lines: list[QuoteLineOut]
    total: str
    replaces: str | None
    made_at: datetime
    sent_at: datetime | None
    valid_until: date | None
    decided_at: datetime | None
    decided_by: str
    decision_words: str


class QuotesOut(Schema):
    """A page of quotes."""

    rows: list[QuoteOut]
    next: str


_PLAIN = (
    "number",
    "version",
    "changed_at",
    "state",
    "currency",
    "words",
    "made_at",
    "sent_at",
    "valid_until",
    "decided_at",
    "decided_by",
    "decision_words",
)


def quote_out(quote: Quote) -> QuoteOut:
    """Return a quote as it travels."""
    lines = sorted(quote.lines.all(), key=lambda line: line.pk)
    return QuoteOut(
        **{name: getattr(quote, name) for name in _PLAIN},
        job=quote.job.number,
        lines=[
            QuoteLineOut(
                item=line.item.code if line.item else None,
                words=line.words,
                count=str(line.count),
                price=str(line.price),
                sum=str(line_sum(line.count, line.price)),
            )
            for line in lines
        ],
        total=str(sum_of(lines)),
        replaces=quote.replaces.number if quote.replaces else None,
    )
