"""A box that just came, and who takes it."""

import datetime as dt

import pytest

from flueproof.shop.records.intake.arrivals import enter_box
from flueproof.shop.records.models import Job


@pytest.fixture
def by(people):
    return people["counter"]


@pytest.fixture
def arrival(by, now, shop):
    return enter_box(by, now, clues={"serial": "O5-20417"})


@pytest.fixture
def awaited(owner, analyzer, now):
    """A job whose box has not come yet."""
    return Job.objects.create(
        number="J-2026-00050",
        owner=owner,
        analyzer=analyzer,
        state="requested",
        complaint="O2 reads high",
        enclosed_announced=["probe", "hose", "trap"],
        promised_on=dt.date(2026, 12, 4),
        opened_at=now,
    )
