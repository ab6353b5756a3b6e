"""A judged visit in the shop and a log of one reading."""

import datetime as dt

import pytest

from flueproof.impact.field_log.row import FieldRow
from flueproof.impact.statements.limits import Limit
from flueproof.shop.records.field_logs.keeping import Consent, LogContent
from shop.at_the_bench import demo_named, fed, job_of
from shop.visit_fixtures import began, open_shop, rack, visit

__all__ = ["began", "open_shop", "rack", "visit"]

ROW = FieldRow(2, dt.date(2026, 9, 1), "House 1", "natural-gas-us", 5.0, 80.0, 200.0, 20.0)
LIMIT = Limit("House rule", "co_air_free_ppm", "at-most", 110.0)
CONVENTION = {"method": "german-net", "excess_air": "simple", "air_free": "german"}


@pytest.fixture
def visit_of(shop, owner, people):
    """Return a function: name of a demo record, days by which it is moved -> its visit in the shop."""
    shop.morning_check_needed = False
    shop.save()

    def make(name):
        demo = demo_named(name)
        opened = dt.datetime.fromisoformat(demo.record["steps"][0]["at"])
        return fed(demo, job_of(demo, owner, opened), people["technician"], opened, shop)

    return make


@pytest.fixture
def low(visit_of):
    """A visit whose analyzer showed CO too low."""
    return visit_of("co-cell-low")


@pytest.fixture
def content():
    return LogContent((ROW,), (LIMIT,), CONVENTION, dt.date(2025, 11, 3))


@pytest.fixture
def consent(now):
    return Consent("Ada Quay (invented), by phone", now.date() + dt.timedelta(days=30), "Spring")
