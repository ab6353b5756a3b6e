"""The best plan in the seconds given."""

import random
from dataclasses import replace

import pytest

from flueproof.promise.schedule.best import best_plan
from flueproof.promise.schedule.checking import faults_of
from flueproof.promise.schedule.measure import broken_promises, score
from flueproof.promise.schedule.model import Job, Placed, PlanError, Shop, Situation, Station, Step, Technician
from flueproof.promise.schedule.quick import earliest_due_date, least_slack, quick_plan, rule_plan
from flueproof.promise.schedule.solving.capacity_bound import capacity_bound
from flueproof.promise.schedule.solving.searching import limit_of, rank
from promise.schedule.benches import four_people, open_jobs, with_running
from promise.schedule.every_plan import best_of_all

ONE_KIND_EACH = (Station("gas 1", "gas"), Station("draft 1", "draft"))
BOTH_AT_ONE = (Station("gas 1", "gas"), Station("both 1", "draft", also=frozenset({"gas"})))


def small(seed, stations=ONE_KIND_EACH):
    """Return three jobs of two or three steps, two people who differ, two stations, short days."""
    rng = random.Random(seed)  # noqa: S311
    days = tuple((day * 65, day * 65 + 60) for day in range(12))
    people = (
        Technician("Ann", frozenset({"bench", "repair"}), days),
        Technician("Bo", frozenset({"bench"}), tuple((start, start + rng.choice((30, 60))) for start, _ in days)),
    )
    kinds = [
        lambda: (Step("look", rng.randint(3, 15), rng.choice((0, 5))),),
        lambda: (Step("fix", rng.randint(5, 20), skill="repair"),),
        lambda: (
            Step("on", rng.randint(2, 6), rng.randint(2, 8), station="gas", keeps_station=True),
            Step("gas", rng.randint(3, 12), station="gas"),
        ),
        lambda: (Step("draft", rng.randint(3, 12), rng.choice((0, 6)), station="draft", keeps_station=True),),
        lambda: (Step("soak", rng.randint(2, 8), 70, overnight=True),),
    ]
    jobs = []
    for number in range(3):
        steps = sum((make() for make in rng.sample(kinds, 2)), ())[:3]
        promised = None if rng.random() < 0.1 else rng.randint(15, 70)
        jobs.append(Job(f"J{number}", steps, rng.choice((0, 0, 10)), promised, rng.choice((1, 1, 2))))
    return Situation(Shop(people, stations, days), tuple(jobs))


@pytest.mark.parametrize("stations", [ONE_KIND_EACH, BOTH_AT_ONE], ids=["one kind each", "both at one"])
@pytest.mark.parametrize("seed", range(12))
def test_what_is_proved_best_is_best_of_all_plans_and_none_beats_the_capacity_bound(seed, stations):
    situation = small(seed, stations)
    least, witness = best_of_all(situation)
    assert faults_of(witness) == []
    found = best_plan(situation, 120)
    assert faults_of(found) == []
    assert found.found == "proved best"
    assert rank(score(found), limit_of(situation)) == least
    assert all(bound <= value for bound, value in zip(capacity_bound(situation), score(witness), strict=True))


def test_the_capacity_bound_is_the_lateness_itself_where_one_person_has_one_step_of_each_job():
    hours = ((0, 10_000),)
    shop = Shop((Technician("Ann", frozenset({"bench"}), hours),), (), hours)
    jobs = tuple(Job(f"J{number}", (Step("work", 100),), promised=0) for number in range(5))
    assert capacity_bound(Situation(shop, jobs)).lateness == pytest.approx(100 + 200 + 300 + 400 + 500, abs=5 * 10)


@pytest.mark.parametrize("tight", [0.3, 1.0])
@pytest.mark.parametrize("seed", range(2))
def test_a_better_plan_can_be_worked_and_is_no_worse_than_the_quick_one_or_the_rules(seed, tight):
    situation = open_jobs(seed, tight=tight)
    found = best_plan(situation, 1.0)
    limit = limit_of(situation)
    assert faults_of(found) == []
    assert found.found in {"best found", "proved best"}
    for rule in (earliest_due_date, least_slack):
        assert score(found).lateness <= score(rule_plan(situation, rule)).lateness
        assert rank(score(found), limit) <= rank(score(rule_plan(situation, rule)), limit)
    assert rank(score(found), limit) <= rank(score(quick_plan(situation)), limit)


@pytest.mark.parametrize("seed", range(2))
def test_running_work_is_left_alone_by_the_solver(seed):
    situation = with_running(open_jobs(seed, count=5))
    found = best_plan(situation, 1.0)
    assert faults_of(found) == []
    assert set(situation.running) <= set(found.placed)


def test_a_known_plan_that_is_better_is_not_lost():
    situation = open_jobs(2, count=10, tight=0.4)
    known = best_plan(situation, 2.0, seed=3)
    again = best_plan(situation, 0.1, start=known)
    assert rank(score(again), limit_of(situation)) <= rank(score(known), limit_of(situation))


def test_too_few_days_are_told():
    with pytest.raises(PlanError, match="hand over more days"):
        best_plan(open_jobs(1, days=1), 0.5)


def test_nothing_to_do_is_proved_best():
    assert best_plan(Situation(four_people(), ())).found == "proved best"


def test_hundreds_of_jobs_are_planned_part_by_part():
    situation = open_jobs(4, count=130, tight=0.6)
    found = best_plan(situation, 2.0)
    assert faults_of(found) == []
    assert found.found == "best found"
    limit = limit_of(situation)
    assert rank(score(found), limit) <= rank(score(rule_plan(situation, earliest_due_date)), limit)


def test_running_work_is_kept_through_the_parts():
    situation = with_running(open_jobs(5, count=130))
    found = best_plan(situation, 1.0)
    assert faults_of(found) == []
    assert set(situation.running) <= set(found.placed)


def test_jobs_with_nothing_left_are_counted_and_hinder_nobody():
    situation = open_jobs(3, count=3)
    first, second, third = situation.jobs
    kept = replace(first, finished=len(first.steps), release=0, promised=10)
    late = replace(second, finished=len(second.steps), release=0, promised=-10)
    found = best_plan(replace(situation, jobs=(kept, late, third)), 120)
    assert faults_of(found) == []
    assert found.found == "proved best"
    assert score(found).broken == late.weight + (third.promised is not None and found.ends[third.name] > third.promised)


def test_a_running_last_step_ends_its_job():
    situation = open_jobs(3, count=2)
    job = replace(situation.jobs[0], finished=len(situation.jobs[0].steps) - 1, release=0, promised=3)
    running = Placed(job.name, job.finished, -5, 4, 4, "Ann")
    found = best_plan(replace(situation, jobs=(job, situation.jobs[1]), running=(running,)), 30)
    assert found.ends[job.name] == 4
    assert broken_promises(found)[:1] == [job.name]


def test_a_job_late_already_is_still_done_as_soon_as_it_pays():
    situation = open_jobs(6, count=4)
    late = replace(situation.jobs[0], promised=-600, release=0)
    found = best_plan(replace(situation, jobs=(late, *situation.jobs[1:])), 20)
    assert faults_of(found) == []
    assert late.name in broken_promises(found)
