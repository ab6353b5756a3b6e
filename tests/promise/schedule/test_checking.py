"""The checker sees what it is for: every plan here is good until one thing is made wrong."""

from dataclasses import replace

import pytest

from flueproof.promise.schedule.checking import faults_of
from flueproof.promise.schedule.model import plan_of
from flueproof.promise.schedule.quick import quick_plan
from promise.schedule.benches import open_jobs, with_running


@pytest.fixture
def plan():
    return quick_plan(with_running(open_jobs(1, count=12)))


def changed(plan, which, **changes):
    placed = list(plan.placed)
    where = next(number for number, each in enumerate(placed) if which(each))
    placed[where] = replace(placed[where], **changes)
    return faults_of(plan_of(plan.situation, placed))


def hands(each):
    return each.technician == "Ann" and each.start > 200


def test_a_good_plan_has_no_faults(plan):
    assert faults_of(plan) == []


def test_a_step_left_out(plan):
    assert any("were to be placed" in fault for fault in faults_of(plan_of(plan.situation, plan.placed[:-1])))


def test_two_at_the_same_time(plan):
    first, second = plan.of_technician("Ann")[2:4]
    moved = changed(
        plan, lambda each: each == second, start=first.start, hands_end=first.start + second.hands_end - second.start
    )
    assert any("Ann" in fault and "at the same time" in fault for fault in moved)


def test_a_person_who_cannot_do_it(plan):
    repair = lambda each: plan.situation.by_name[each.job].steps[each.step].skill == "repair"  # noqa: E731
    assert any("cannot do 'repair'" in fault for fault in changed(plan, repair, technician="Cy"))


def test_a_person_who_is_not_there(plan):
    afternoon = lambda each: 250 < each.start < 400 and each.technician == "Ann"  # noqa: E731
    assert any("Di is not there" in fault for fault in changed(plan, afternoon, technician="Di"))


def test_nobody(plan):
    assert any("technician ''" in fault for fault in changed(plan, hands, technician=""))
    assert any("nobody is called" in fault for fault in changed(plan, hands, technician="Zoe"))


def test_hands_too_short(plan):
    assert any("hands for" in fault for fault in changed(plan, hands, hands_end=plan.of_technician("Ann")[5].start))


def test_a_wrong_station(plan):
    at_gas = lambda each: each.station == "gas 2"  # noqa: E731
    assert any("instead of a station" in fault for fault in changed(plan, at_gas, station="draft 5"))


def test_waiting_cut_short(plan):
    waits = lambda each: each.end > each.hands_end and each.start > 0  # noqa: E731
    each = next(each for each in plan.placed if waits(each))
    assert any("waits 0 min" in fault for fault in changed(plan, waits, end=each.hands_end))


def test_running_work_moved(plan):
    running = plan.situation.running[0]
    assert any(
        "runs already and was moved" in fault
        for fault in changed(plan, lambda each: each == running, end=running.end + 1)
    )


def test_a_step_at_night(plan):
    assert any("closed" in fault for fault in changed(plan, hands, start=470, hands_end=490, end=490))
