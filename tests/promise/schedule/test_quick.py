"""The plan at once."""

import pytest

from flueproof.promise.schedule.checking import faults_of
from flueproof.promise.schedule.measure import score
from flueproof.promise.schedule.model import Job, PlanError, Situation, Step
from flueproof.promise.schedule.quick import RULES, earliest_due_date, first_come, least_slack, quick_plan, rule_plan
from promise.schedule.benches import four_people, open_jobs, with_running


@pytest.mark.parametrize("seed", range(8))
def test_every_rule_makes_a_plan_that_can_be_worked(seed):
    situation = open_jobs(seed)
    for rule in (*RULES, first_come):
        assert faults_of(rule_plan(situation, rule)) == []


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("tight", [0.3, 1.0])
def test_the_quick_plan_is_never_worse_than_the_rules_of_the_trade(seed, tight):
    situation = open_jobs(seed, tight=tight)
    found = quick_plan(situation)
    assert faults_of(found) == []
    assert score(found) <= min(score(rule_plan(situation, rule)) for rule in (earliest_due_date, least_slack))


@pytest.mark.parametrize("seed", range(4))
def test_what_runs_stays_and_keeps_its_station(seed):
    situation = with_running(open_jobs(seed))
    found = quick_plan(situation)
    assert faults_of(found) == []
    for running in situation.running:
        assert running in found.placed
        following = found.of_job(running.job)[1]
        assert following.station == running.station


def test_a_skill_nobody_has_is_named():
    situation = Situation(four_people(), (Job("J1", (Step("weld", 10, skill="welding"),)),))
    with pytest.raises(PlanError, match="welding"):
        quick_plan(situation)


def test_a_station_the_shop_has_not_is_named():
    situation = Situation(four_people(), (Job("J1", (Step("spin", 10, station="centrifuge"),)),))
    with pytest.raises(PlanError, match="centrifuge"):
        quick_plan(situation)


def test_a_step_longer_than_anybodys_day_is_refused():
    situation = Situation(four_people(), (Job("J1", (Step("endless", 481),)),))
    with pytest.raises(PlanError, match="endless"):
        quick_plan(situation)


def test_no_jobs_make_an_empty_plan():
    found = quick_plan(Situation(four_people(), ()))
    assert found.placed == ()
    assert score(found) == (0, 0, 0)


def test_the_waiting_keeps_nobody():
    steps = (Step("warm-up", 5, 60), Step("work", 10))
    shop = four_people()
    shop = type(shop)(shop.technicians[:1], shop.stations, shop.open)
    found = quick_plan(Situation(shop, (Job("J1", steps), Job("J2", steps))))
    assert max(found.ends.values()) < 90


def test_a_soak_through_the_night_is_over_in_the_morning():
    steps = (Step("soak", 10, 600, overnight=True), Step("work", 10))
    found = quick_plan(Situation(four_people(), (Job("J1", steps),)))
    assert found.ends["J1"] == 485 + 10
