"""The rolling plan: made once, kept in order, better when there is time, honest where nobody or nothing is there."""

import datetime as dt

import pytest

from flueproof.promise.schedule.checking import faults_of
from flueproof.shop.records.models import DayOff, Job, Plan, Station
from flueproof.shop.records.promises.plan.bench import bench_at
from flueproof.shop.records.promises.plan.content import work_of
from flueproof.shop.records.promises.planning import latest_plan, make_plan, planned, state_key
from shop.planned import MONDAY, give_hours, make_job, make_stations


@pytest.fixture
def busy(shop, people, owner):
    """Two people, two stations, three jobs."""
    give_hours(people)
    make_stations()
    return [make_job(owner, number) for number in (1, 2, 3)]


def test_a_plan_has_every_step_of_every_job_with_a_person_and_a_place(busy):
    plan = make_plan(MONDAY)
    work = work_of(plan.content)
    assert {one.job for one in work} == {job.number for job in busy}
    assert [one.step for one in work if one.job == busy[0].number] == ["look", "gas", "temperature", "draft", "sign"]
    assert {one.who for one in work} <= {"R. Vale", "S. Alder"}
    assert {one.who for one in work if one.step == "sign"} == {"S. Alder"}
    assert all(one.where.startswith("Bench") for one in work if one.step == "gas")
    assert min(one.start for one in work) == MONDAY
    bench = bench_at(MONDAY)
    assert faults_of(planned(bench, None, 0)[0]) == []


def test_nothing_is_computed_twice(busy):
    first = make_plan(MONDAY)
    assert make_plan(MONDAY + dt.timedelta(minutes=5)) == first
    better = make_plan(MONDAY, seconds=1.0)
    assert better.found in {"best-found", "proved"}
    assert make_plan(MONDAY, seconds=0.5) == better == latest_plan()
    assert Plan.objects.count() == 2


def test_whatever_changes_makes_another_key(busy, people, owner):
    keys = {state_key(MONDAY)}
    DayOff.objects.create(person=people["technician"], first=MONDAY.date(), last=MONDAY.date())
    keys.add(state_key(MONDAY))
    make_job(owner, 4)
    keys.add(state_key(MONDAY))
    people["technician"].is_active = False
    people["technician"].save()
    keys.add(state_key(MONDAY))
    keys.add(state_key(MONDAY + dt.timedelta(hours=1)))
    assert len(keys) == 5


def test_a_new_job_leaves_the_order_of_today(busy, owner):
    before = {one.job: one.start for one in reversed(work_of(make_plan(MONDAY).content))}
    make_job(owner, 4)
    after = {one.job: one.start for one in reversed(work_of(make_plan(MONDAY).content))}
    assert [name for name in sorted(after, key=after.get) if name in before] == sorted(before, key=before.get)


def test_the_work_of_a_person_who_left_is_given_to_others(busy, people):
    assert "R. Vale" in {one.who for one in work_of(make_plan(MONDAY).content)}
    people["technician"].is_active = False
    people["technician"].save()
    plan = make_plan(MONDAY)
    assert {one.who for one in work_of(plan.content)} == {"S. Alder"}
    assert plan.content["problems"] == []


def test_without_anybody_the_plan_says_so(shop, owner):
    make_stations()
    make_job(owner, 1)
    plan = make_plan(MONDAY)
    assert plan.content["placed"] == []
    assert "Nobody gets work from the plan" in plan.content["problems"][0]


def test_without_a_station_the_plan_says_so(shop, people, owner):
    give_hours(people)
    make_job(owner, 1)
    assert "No station is in use" in make_plan(MONDAY).content["problems"][0]


def test_a_skill_that_nobody_has_keeps_its_jobs_out_and_the_others_in(shop, people, owner):
    give_hours(people, "signer")
    make_stations()
    make_job(owner, 1, service="repair", complaint="dead", spend_up_to=50)
    make_job(owner, 2)
    content = make_plan(MONDAY).content
    assert list(content["jobs"]) == ["J-2026-00002"]
    assert content["problems"] == ["Nobody in the plan can repair: 1 job cannot be planned."]


def test_everybody_away_for_months_is_told_and_no_crash(busy, people):
    for role in ("technician", "signer"):
        DayOff.objects.create(person=people[role], first=MONDAY.date(), last=MONDAY.date() + dt.timedelta(days=400))
    content = make_plan(MONDAY).content
    assert content["placed"] == []
    assert content["problems"]


def test_a_person_with_an_hour_a_day_cannot_do_what_takes_longer_and_the_plan_says_so(busy, people):
    for row in (people["technician"].working_pattern, people["signer"].working_pattern):
        row.hours = {str(day): ["08:00", "08:05"] for day in range(5)}
        row.save()
    content = make_plan(MONDAY).content
    assert content["placed"] == []
    assert "finds no time" in content["problems"][0]


def test_a_station_that_is_not_in_use_gets_nothing(busy):
    row = Station.objects.get(name="Bench 2")
    row.in_use = False
    row.save()
    assert {one.where for one in work_of(make_plan(MONDAY).content)} == {"Bench 1", ""}


def test_two_people_who_plan_at_once_get_one_plan(busy, people, monkeypatch):
    """The second comes to the end of its computing after the first kept a plan."""
    from flueproof.shop.records.promises import planning

    real = planning.planned

    def slowly(*args):
        found = real(*args)
        monkeypatch.setattr(planning, "planned", real)
        make_plan(MONDAY, people["counter"])
        return found

    monkeypatch.setattr(planning, "planned", slowly)
    assert make_plan(MONDAY, people["manager"]).by == people["counter"]
    assert Plan.objects.count() == 1


def test_a_job_that_moved_on_is_planned_from_where_it_is(busy):
    job = Job.objects.get(pk=busy[0].pk)
    job.state = "to-sign"
    job.save()
    assert [one.step for one in work_of(make_plan(MONDAY).content) if one.job == job.number] == ["sign"]
