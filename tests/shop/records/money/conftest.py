"""A price list, a job at the bench, a quote of two lines."""

from decimal import Decimal

import pytest

from flueproof.shop.records.models import PriceItem
from flueproof.shop.records.money.quoting import Wanted, write_quote


@pytest.fixture
def items(db):
    """Two lines of the list, by code."""
    made = {}
    for code, words, kind, price, service in (
        ("VA-1", "verification and adjustment", "service", "165.00", "verify-adjust"),
        ("CELL-CO", "CO cell, fitted", "part", "185.50", ""),
    ):
        made[code] = PriceItem.objects.create(code=code, words=words, kind=kind, price=Decimal(price), service=service)
    return made


@pytest.fixture
def lines(items):
    return [
        Wanted("verification and adjustment", Decimal("165.00"), Decimal(1), items["VA-1"]),
        Wanted("CO cell, fitted", Decimal("185.50"), Decimal(2), items["CELL-CO"]),
    ]


@pytest.fixture
def quote(shop, job, lines, people, now):
    shop.public_address = "https://bench.example"
    shop.save()
    return write_quote(job, lines, "The CO cell is weak.", people["counter"], now)
