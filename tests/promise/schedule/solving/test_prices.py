"""Bounds from prices of all minutes at once."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueproof.promise.schedule.measure import score
from flueproof.promise.schedule.model import Job, Shop, Situation, Station, Step, Technician
from flueproof.promise.schedule.placing.dispatching import dispatch
from flueproof.promise.schedule.placing.ordering import place_in_order
from flueproof.promise.schedule.solving.prices import asked, best_bound, broken_cost, late_by, waited
from promise.schedule.benches import four_people, open_jobs, with_running
from promise.schedule.every_plan import best_of_all
from promise.schedule.test_best import BOTH_AT_ONE, ONE_KIND_EACH, small

HOURS = ((0, 10_000),)
BENCH = frozenset({"bench"})


def of_equal_jobs(count, people, step, stations=()):
    shop = Shop(tuple(Technician(f"P{n}", BENCH, HOURS) for n in range(people)), stations, HOURS)
    return Situation(shop, tuple(Job(f"J{number}", (step,), promised=0) for number in range(count)))


@pytest.mark.parametrize("people", [1, 2])
def test_it_is_the_lateness_itself_for_equal_jobs_of_one_step(people):
    found = best_bound(of_equal_jobs(6, people, Step("work", 100)), late_by(), 700, 400)
    true = sum(100 * (number // people + 1) for number in range(6))
    assert true * 0.97 < found <= true


def test_a_station_bounds_as_a_person_does():
    step = Step("soak", 0, 100, station="gas", keeps_station=True)
    found = best_bound(of_equal_jobs(5, 4, step, (Station("gas 1", "gas"),)), late_by(), 600, 400)
    assert 1500 * 0.97 < found <= 1500


def test_people_and_stations_bound_more_together_than_either_alone():
    """Every job holds the one station for 20 minutes, then needs one of two people for 50."""
    soak = Step("soak", 0, 20, station="gas", keeps_station=True)
    shop = Shop(tuple(Technician(f"P{n}", BENCH, HOURS) for n in range(2)), (Station("gas 1", "gas"),), HOURS)
    both = Situation(shop, tuple(Job(f"J{n}", (soak, Step("work", 50)), promised=0) for n in range(8)))
    no_station = replace(both, jobs=tuple(replace(job, steps=(Step("soak", 0, 20), job.steps[1])) for job in both.jobs))
    no_people = replace(both, jobs=tuple(replace(job, steps=(soak, Step("work", 0, 50))) for job in both.jobs))
    together, hands, station = (best_bound(each, late_by(), 500, 200) for each in (both, no_station, no_people))
    assert max(hands, station) + 15 < together <= score(place_in_order(both, both.jobs)).lateness == 1240


@pytest.mark.parametrize("stations", [ONE_KIND_EACH, BOTH_AT_ONE], ids=["one kind each", "both at one"])
@pytest.mark.parametrize("seed", [1, 3, 4, 5, 7, 9])
def test_no_plan_at_all_is_below_it(seed, stations):
    situation = small(seed, stations)
    _, witness = best_of_all(situation)
    reached = score(witness)
    for cost, value in ((late_by(), reached.lateness), (broken_cost, reached.broken), (waited, reached.waiting)):
        assert best_bound(situation, cost, 400, 60) <= value
    assert best_bound(situation, late_by(50), 400, 60) <= reached.lateness + 50 * reached.broken


@pytest.mark.parametrize("length", [50, 300, 3000])
@pytest.mark.parametrize("seed", range(2))
def test_no_plan_is_below_it_wherever_the_prices_end_and_with_running_work(seed, length):
    situation = with_running(open_jobs(seed, count=12, tight=0.3))
    for plan in (place_in_order(situation, situation.jobs), dispatch(situation, situation.jobs)):
        assert best_bound(situation, late_by(), length, 40) <= score(plan).lateness
        assert best_bound(situation, waited, length, 40) <= score(plan).waiting


steps = st.builds(
    Step,
    st.just("step"),
    st.integers(0, 20),
    st.integers(0, 30),
    st.sampled_from(["bench", "repair"]),
    st.sampled_from(["", "gas", "draft"]),
    st.booleans(),
    st.booleans(),
    st.sampled_from([0, 0, 40, 600]),
).filter(lambda step: step.hands_on + step.waiting > 0)
jobs = st.lists(
    st.tuples(st.lists(steps, min_size=1, max_size=4), st.integers(0, 60), st.integers(0, 300), st.integers(1, 3)),
    min_size=1,
    max_size=7,
)


@settings(max_examples=40, deadline=None)
@given(jobs, st.booleans(), st.randoms(use_true_random=False))
def test_no_plan_of_any_order_is_below_it(drawn, both, rng):
    shop = four_people(12)
    stations = (Station("gas 1", "gas"), Station("draft 1", "draft", also=frozenset({"gas"} if both else ())))
    work = tuple(
        Job(f"J{n}", tuple(steps), release, due, weight) for n, (steps, release, due, weight) in enumerate(drawn)
    )
    situation = Situation(Shop(shop.technicians[:2], stations, shop.open), work)
    bounds = [best_bound(situation, cost, 700, 12) for cost in (broken_cost, late_by(), waited)]
    for placing in (place_in_order, dispatch):
        order = rng.sample(work, len(work))
        assert all(bound <= value for bound, value in zip(bounds, score(placing(situation, order)), strict=True))


def test_nothing_to_do_costs_nothing():
    assert best_bound(Situation(four_people(), ()), late_by(), 100, 5) == 0


def test_what_is_done_already_costs_what_it_costs():
    job = Job("J", (Step("work", 10),), release=50, promised=20, finished=1)
    assert best_bound(Situation(four_people(), (job,)), late_by(), 100, 5) == 30


def test_the_cheapest_ways_end_as_soon_as_they_can_where_nothing_costs():
    situation = open_jobs(1, count=1)
    (first, *_) = asked(situation, waited, 2000, 1)
    assert first.begins["J000", 0] >= situation.jobs[0].release
