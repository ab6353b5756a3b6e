"""A store with one kind of cell in it."""

import datetime as dt
from functools import partial

import pytest
from django.utils import timezone

from flueproof.shop.records.models import Part
from flueproof.shop.records.stock.ledger import Pen
from flueproof.shop.records.stock.receiving import Delivery, receive


@pytest.fixture
def day():
    return timezone.localdate()


@pytest.fixture
def pen(people):
    """Return a function source -> who writes now."""
    return lambda source=None: Pen(people["technician"], timezone.now(), source)


@pytest.fixture
def cell(db):
    return Part.objects.create(
        code="CELL-CO",
        title="co cell",
        kind="cell",
        shelf_months=12,
        profiles=["two-cell-residential"],
        scan_code="4009",
    )


@pytest.fixture
def lot(cell, pen, day):
    """Three cells with serials, a month old."""
    came = Delivery("CO-1", 3, made=day - dt.timedelta(30), serials=("A1", "A2", "A3"))
    return receive(cell, came, pen()).lot


@pytest.fixture
def came(cell, pen, day):
    """Return a function that receives another lot of the cell."""
    return partial(_came, cell, pen, day)


def _came(cell, pen, day, code, count=1, age=10):
    return receive(cell, Delivery(code, count, made=day - dt.timedelta(age)), pen()).lot
