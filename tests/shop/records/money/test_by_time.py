"""What time brings is brought once."""

import datetime as dt

import pytest

from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import Analyzer, Job, Letter, Loan, LoanUnit
from flueproof.shop.records.money.by_time import Brought, bring_what_is_due
from flueproof.shop.records.money.quotes import send_quote


@pytest.fixture
def owing(quote, owner, people, now):
    """A quote that is out, a box that waits, a unit that is out."""
    send_quote(quote, people["counter"], now)
    unit = Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="X-1")
    box = Job.objects.create(number="J-2026-00077", owner=owner, analyzer=unit, state="arrived", opened_at=now)
    move_job(box, "to-return", people["counter"], now, why="as it came")
    own = Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="L-1")
    kept = LoanUnit.objects.create(analyzer=own, name="Loan 1")
    day = dt.date(2026, 12, 1)
    Loan.objects.create(unit=kept, owner=owner, out_at=now, out_by=people["counter"], until=day)


def test_nothing_is_due_on_the_first_day(owing, now):
    assert bring_what_is_due(now) == Brought(0, 0)


def test_the_quote_then_the_unit_then_the_box_and_each_once(owing, now):
    brought = {}
    for days in range(1, 32):
        moment = now + dt.timedelta(days=days)
        found = bring_what_is_due(moment)
        assert bring_what_is_due(moment) == Brought(0, 0)
        brought[days] = found
    assert brought[7] == Brought(2, 0)  # the quote at half its time, the unit since a day
    assert brought[15].ended == 1
    assert brought[30].letters >= 1
    kinds = set(Letter.objects.values_list("kind", flat=True))
    assert {"quote", "loan-reminder", "unclaimed"} <= kinds
