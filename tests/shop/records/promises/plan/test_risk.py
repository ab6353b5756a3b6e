"""How likely promises break: at once and thoroughly, both in the same direction."""

import datetime as dt

import pytest

from flueproof.shop.records.promises.plan.bench import bench_at
from flueproof.shop.records.promises.plan.risk import risks_of
from flueproof.shop.records.promises.planning import planned
from shop.planned import MONDAY, give_hours, make_job, make_stations


@pytest.fixture
def made(shop, people, owner):
    give_hours(people)
    make_stations()
    make_job(owner, 1, promised_on=MONDAY.date())
    make_job(owner, 2, promised_on=MONDAY.date() - dt.timedelta(days=3))
    bench = bench_at(MONDAY)
    return bench, planned(bench, None, 0)[0]


@pytest.mark.parametrize("thorough", [False, True])
def test_hours_to_spare_are_safe_and_what_is_late_is_late(made, thorough):
    risks = risks_of(*made, thorough=thorough)
    assert risks["J-2026-00001"] < 0.05
    assert risks["J-2026-00002"] > 0.95


def test_a_promise_that_the_plan_just_keeps_is_in_doubt(shop, people, owner):
    give_hours(people)
    make_stations()
    job = make_job(owner, 1, promised_on=MONDAY.date())
    bench = bench_at(MONDAY.replace(hour=15, minute=30))
    plan, _ = planned(bench, None, 0)
    assert plan.ends[job.number] <= bench.situation.by_name[job.number].promised
    assert 0.05 < risks_of(bench, plan)[job.number] < 0.95
