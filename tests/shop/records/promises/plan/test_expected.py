"""Room is kept in the plan for a box that was promised on the phone and is not here yet."""

import datetime as dt

import pytest

from flueproof.shop.records.jobs.opening import NewAnalyzer, NewOwner
from flueproof.shop.records.models import Job
from flueproof.shop.records.promises.plan.bench import bench_at
from flueproof.shop.records.promises.plan.content import work_of
from flueproof.shop.records.promises.planning import make_plan
from flueproof.shop.records.promises.questions import Asked
from flueproof.shop.records.promises.taking import NewJob, open_and_take
from shop.planned import MONDAY, give_hours, make_job, make_stations

DAY = dt.timedelta(days=1)
NEW = NewJob(NewOwner("Kelder Heat (invented)"), NewAnalyzer("Orrin", "Orrin 7", "ZX-777"), "reads high")


@pytest.fixture
def taken(shop, people, owner):
    give_hours(people)
    make_stations()
    asked = Asked((MONDAY + 2 * DAY).replace(hour=15), None, "verify", here_on=(MONDAY + DAY).date())
    return open_and_take(asked, NEW, (), people["counter"], MONDAY)


def test_its_work_begins_when_the_box_is_said_to_be_here(taken):
    assert (taken.state, taken.complaint) == ("requested", "reads high")
    plan = make_plan(MONDAY + dt.timedelta(hours=1))
    begins = min(one.start for one in work_of(plan.content) if one.job == taken.number)
    assert begins == (MONDAY + DAY).replace(hour=8)
    assert plan.content["jobs"][taken.number]["ends"] <= plan.content["jobs"][taken.number]["due"]


def test_a_box_that_does_not_come_gives_its_room_back_and_is_told(taken):
    assert taken.number in bench_at(MONDAY + 2 * DAY).situation.by_name
    later = bench_at(MONDAY + 3 * DAY)
    assert taken.number not in later.situation.by_name
    assert later.waiting[taken.number] == "its box was to be here on Tuesday 1 December 2026 and is not; call the owner"


def test_a_request_that_nothing_was_promised_for_keeps_no_room(shop, people, owner):
    give_hours(people)
    make_stations()
    job = make_job(owner, 5, state="requested", clock=False, promised_on=dt.date(2026, 12, 2))
    bench = bench_at(MONDAY)
    assert job.number not in bench.situation.by_name
    assert job.number not in bench.waiting


def test_once_the_box_is_here_it_is_a_job_like_every_other(taken, people):
    from flueproof.shop.records.jobs.moving import move_job

    move_job(taken, "arrived", people["counter"], MONDAY + DAY)
    bench = bench_at(MONDAY + DAY)
    assert Job.objects.get(pk=taken.pk).state == "arrived"
    assert taken.number in bench.situation.by_name or taken.number in bench.waiting
