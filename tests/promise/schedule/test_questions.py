"""The questions of the phone."""

from dataclasses import replace

import pytest

from flueproof.promise.schedule.checking import faults_of
from flueproof.promise.schedule.measure import broken_promises
from flueproof.promise.schedule.model import Job, PlanError, Shop, Situation, Step, Technician
from flueproof.promise.schedule.questions import can_be_done_by, how_many, later_than, without
from flueproof.promise.schedule.quick import quick_plan
from promise.schedule.benches import FULL, open_days, open_jobs


def one_person(*promised):
    """One person, one hour's work for each promise."""
    hours = open_days(5)
    shop = Shop((Technician("Ann", frozenset({"bench"}), hours),), (), hours)
    jobs = tuple(Job(f"J{number}", (Step("work", 60),), promised=due) for number, due in enumerate(promised))
    return quick_plan(Situation(shop, jobs))


def rush(minutes=60):
    return Job("rush", (Step("work", minutes),))


def test_yes_where_there_is_room_and_nobody_pays():
    answer = can_be_done_by(one_person(60, 120), rush(), 180)
    assert (answer.verdict, answer.ends, answer.breaks, answer.later) == ("yes", 180, (), ())
    assert answer.earliest == 180
    assert answer.soonest == 60


def test_yes_where_others_end_later_but_in_time_and_it_says_by_how_much():
    answer = can_be_done_by(one_person(300, 300), rush(), 60)
    assert answer.verdict == "yes"
    assert {each.job: each.minutes for each in answer.later} == {"J0": 60, "J1": 60}
    assert answer.breaks == ()


def test_what_breaks_is_named():
    answer = can_be_done_by(one_person(60, 300), rush(), 60)
    assert answer.verdict == "costs promises"
    assert answer.breaks == ("J0",)
    assert answer.earliest == 120


def test_no_where_it_can_never_be_done_by_then():
    answer = can_be_done_by(one_person(60), rush(90), 60)
    assert answer.verdict == "no"
    assert answer.soonest == 90
    assert answer.earliest == 150


def test_a_broken_promise_that_breaks_further_is_told_as_later_only():
    answer = can_be_done_by(one_person(30), rush(), 60)
    assert [(each.job, each.minutes, each.breaks) for each in answer.later] == [("J0", 60, False)]


@pytest.mark.parametrize("seed", range(4))
def test_every_answer_is_a_plan_that_can_be_worked_and_shows_what_it_says(seed):
    plan = quick_plan(open_jobs(seed))
    for moment in (200, 480, 1500):
        answer = can_be_done_by(plan, replace(plan.situation.jobs[0], name="new", release=0), moment)
        assert faults_of(answer.plan) == []
        assert answer.plan.ends["new"] == answer.ends
        assert answer.later == later_than(plan, answer.plan)
        newly = set(broken_promises(answer.plan)) - set(broken_promises(plan)) - {"new"}
        assert set(answer.breaks) == newly
        assert (answer.ends <= moment) == (answer.verdict != "no")
        assert answer.soonest <= answer.ends
        assert answer.earliest is None or answer.soonest <= answer.earliest


def test_a_job_that_is_in_the_plan_already_is_refused():
    with pytest.raises(PlanError, match="J0 is in the plan already"):
        can_be_done_by(one_person(60), replace(rush(), name="J0"), 60)


@pytest.mark.parametrize("seed", range(4))
def test_without_somebody_the_plan_can_be_worked_and_they_are_not_in_it_that_day(seed):
    plan = quick_plan(open_jobs(seed))
    found = without(plan, "Ann", [(FULL, 2 * FULL)])
    assert faults_of(found.plan) == []
    assert not [each for each in found.plan.of_technician("Ann") if FULL <= each.start < 2 * FULL]
    assert found.after.waiting >= 0
    assert set(found.breaks) == set(broken_promises(found.plan)) - set(broken_promises(plan))


def test_without_a_stranger_is_refused():
    with pytest.raises(PlanError, match="Nobody in the plan is called 'Zoe'"):
        without(one_person(60), "Zoe", [(0, 10)])


def test_without_the_only_one_who_can_it_cannot_be_done():
    with pytest.raises(PlanError, match="finds no time"):
        without(one_person(60), "Ann", [(0, 10 * FULL)])


def test_how_many_fills_the_time_that_is_left():
    room = how_many(one_person(480), rush(), 480)
    assert room.count == 7
    assert faults_of(room.plan) == []
    assert broken_promises(room.plan) == []


def test_how_many_is_none_where_it_would_come_late():
    assert how_many(one_person(480), rush(600), 480).count == 0
    assert how_many(one_person(480), rush(), 59).count == 0
