"""Plans made from the clock."""

import pytest

from flueproof.promise.schedule.checking import faults_of
from flueproof.promise.schedule.measure import score
from flueproof.promise.schedule.model import Job, Shop, Situation, Step, Technician
from flueproof.promise.schedule.placing.dispatching import by_urgency, dispatch
from flueproof.promise.schedule.placing.ordering import place_in_order
from promise.schedule.benches import open_days, open_jobs, with_running


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("patience", [1.0, 10.0])
def test_the_plan_can_be_worked(seed, patience):
    situation = open_jobs(seed)
    assert faults_of(dispatch(situation, by_urgency(situation, patience))) == []


@pytest.mark.parametrize("seed", range(3))
def test_with_running_work_too(seed):
    situation = with_running(open_jobs(seed))
    assert faults_of(dispatch(situation, situation.jobs)) == []


def test_nobody_waits_for_a_job_while_another_could_go_on():
    hours = open_days(3)
    shop = Shop((Technician("Ann", frozenset({"bench"}), hours),), (), hours)
    first = Job("first", (Step("warm up", 5, 30), Step("work", 20)))
    second = Job("second", (Step("work", 40),))
    from_the_clock = dispatch(Situation(shop, (first, second)), (first, second))
    job_by_job = place_in_order(Situation(shop, (first, second)), (first, second))
    assert from_the_clock.ends == {"first": 65, "second": 45}
    assert job_by_job.ends == {"first": 55, "second": 95}


def test_turns_go_before_the_order():
    hours = open_days(3)
    shop = Shop((Technician("Ann", frozenset({"bench"}), hours),), (), hours)
    jobs = (Job("a", (Step("work", 40),)), Job("b", (Step("work", 40),)))
    found = dispatch(Situation(shop, jobs), jobs, {("a", 0): 10, ("b", 0): 5})
    assert found.ends == {"b": 40, "a": 80}


def test_urgency_puts_short_work_first_where_all_is_late_and_the_date_where_there_is_time():
    hours = open_days(30)
    shop = Shop((Technician("Ann", frozenset({"bench"}), hours),), (), hours)
    late = (Job("long", (Step("work", 90),), promised=0), Job("short", (Step("work", 10),), promised=0))
    assert [job.name for job in by_urgency(Situation(shop, late), 1.0)] == ["short", "long"]
    early = (Job("later", (Step("work", 10),), promised=5000), Job("soon", (Step("work", 90),), promised=100))
    assert [job.name for job in by_urgency(Situation(shop, early), 1.0)] == ["soon", "later"]


@pytest.mark.parametrize("seed", range(3))
def test_it_waits_less_than_job_by_job(seed):
    situation = open_jobs(seed, count=40, tight=0.4)
    order = by_urgency(situation, 10.0)
    assert score(dispatch(situation, order)).waiting < score(place_in_order(situation, order)).waiting


@pytest.mark.parametrize("seed", range(8))
def test_two_who_stand_at_stations_kept_for_them_do_not_take_each_others(seed):
    situation = with_running(open_jobs(seed))
    for plan in (dispatch(situation, situation.jobs), place_in_order(situation, situation.jobs)):
        assert faults_of(plan) == []


def test_a_step_too_long_for_the_rest_of_the_day_lets_a_shorter_one_go_first():
    hours = ((0, 60), (65, 125))
    shop = Shop((Technician("Ann", frozenset({"bench"}), hours),), (), hours)
    jobs = tuple(Job(name, (Step("work", minutes),)) for name, minutes in (("a", 40), ("b", 30), ("c", 25), ("d", 15)))
    assert dispatch(Situation(shop, jobs), jobs).ends == {"a": 40, "d": 55, "b": 95, "c": 120}
