"""A store with one kind of cell in it."""

import datetime as dt

import pytest
from django.utils import timezone

from flueproof.shop.records.models import Part
from flueproof.shop.records.stock.ledger import Pen
from flueproof.shop.records.stock.receiving import Delivery, receive


@pytest.fixture
def cell(shop):
    return Part.objects.create(code="CELL-CO", title="co cell", kind="cell", shelf_months=12, scan_code="4009")


@pytest.fixture
def lot(cell, people):
    made = timezone.localdate() - dt.timedelta(30)
    return receive(cell, Delivery("CO-1", 3, made=made), Pen(people["technician"], timezone.now())).lot
