"""The demo shop: the promised numbers, every state, and papers that hold."""

import datetime as dt

from flueproof.shop.demo_shop.building import build_demo_shop
from flueproof.shop.demo_shop.scenario import shifted, workdays_after, workdays_before
from flueproof.shop.records.models import Job, Person, Visit
from flueproof.shop.records.visits.chain import broken_links

NOW = dt.datetime(2026, 11, 25, 9, 0, tzinfo=dt.UTC)


def test_the_demo_shop_has_what_it_promises(db):
    built = build_demo_shop(NOW)
    # 40 firms and the shop itself, whose two loan units come on top of the firms' analyzers.
    assert (built.owners, built.analyzers, built.open_jobs, built.cylinders) == (41, 167, 34, 7)
    assert built.papers == 8
    assert set(Job.objects.values_list("state", flat=True)) >= set(Job.OPEN)
    assert {person.role for person in Person.objects.all()} == {"counter", "technician", "signer", "manager", "owner"}
    assert [broken_links(visit) for visit in Visit.objects.all()] == [[]] * Visit.objects.count()


def test_dates_move_by_whole_days_and_all_else_stays():
    tree = {"at": "2026-10-05T09:00:00-05:00", "due": ["2026-02-28"], "made": "2024-06", "value": 502.0}
    moved = {"at": "2026-10-06T09:00:00-05:00", "due": ["2026-03-01"], "made": "2024-06", "value": 502.0}
    assert shifted(tree, 1) == moved


def test_workdays_skip_the_weekend():
    assert workdays_after(dt.date(2026, 11, 27), 1) == dt.date(2026, 11, 30)
    assert workdays_before(dt.date(2026, 11, 30), 2) == [dt.date(2026, 11, 26), dt.date(2026, 11, 27)]
