"""Bounds from capacity alone."""

import pytest

from flueproof.promise.schedule.measure import score
from flueproof.promise.schedule.model import Job, Shop, Situation, Station, Step, Technician
from flueproof.promise.schedule.quick import quick_plan
from flueproof.promise.schedule.solving.capacity_bound import alone, capacity_bound, resources
from promise.schedule.benches import open_jobs

HOURS = ((0, 10_000),)
BENCH = frozenset({"bench"})


def shop(people=1, stations=()):
    return Shop(tuple(Technician(f"P{n}", BENCH, HOURS) for n in range(people)), stations, HOURS)


def same_jobs(count, promised, step):
    return tuple(Job(f"J{number}", (step,), promised=promised) for number in range(count))


@pytest.mark.parametrize("people", [1, 2])
def test_it_is_the_lateness_itself_for_equal_jobs_of_one_step(people):
    found = capacity_bound(Situation(shop(people), same_jobs(6, 0, Step("work", 100))))
    true = sum(100 * (number // people + 1) for number in range(6))
    assert true * 0.88 < found.lateness <= true


def test_promises_that_do_not_fit_are_counted():
    found = capacity_bound(Situation(shop(), same_jobs(5, 250, Step("work", 100))))
    assert found.broken == 3


def test_one_station_bounds_as_one_person_does():
    station = (Station("gas 1", "gas"),)
    step = Step("soak", 0, 100, station="gas", keeps_station=True)
    assert capacity_bound(Situation(shop(4, station), same_jobs(5, 250, step))).broken == 3


def test_a_job_that_is_late_with_everything_for_itself_is_counted():
    situation = Situation(shop(5), (Job("J", (Step("work", 100, 50), Step("more", 10)), promised=120),))
    assert alone(situation, lambda job: job.promised) == 40
    assert capacity_bound(situation)[:2] == (1, 40)


def test_skills_that_not_everybody_has_are_a_resource_of_their_own():
    people = (Technician("Ann", BENCH | {"repair"}, HOURS), Technician("Bo", BENCH, HOURS))
    jobs = (Job("J", (Step("fix", 10, skill="repair"), Step("look", 5))),)
    assert [len(each.windows) for each in resources(Situation(Shop(people, (), HOURS), jobs))] == [2, 1]


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("tight", [0.3, 1.0])
def test_no_plan_is_below_it(seed, tight):
    situation = open_jobs(seed, count=15, tight=tight)
    assert all(
        bound <= value for bound, value in zip(capacity_bound(situation), score(quick_plan(situation)), strict=True)
    )
