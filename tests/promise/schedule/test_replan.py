"""A new plan that leaves today alone unless it pays."""

from dataclasses import replace

import pytest

from flueproof.promise.schedule.checking import faults_of
from flueproof.promise.schedule.measure import score
from flueproof.promise.schedule.model import Job, Step
from flueproof.promise.schedule.quick import quick_plan
from flueproof.promise.schedule.replan import moved_steps, replan
from promise.schedule.benches import DAY, open_jobs


def with_a_job(situation, promised):
    job = Job("new", (Step("look", 20), Step("papers", 10)), promised=promised)
    return replace(situation, jobs=(*situation.jobs, job))


@pytest.mark.parametrize("seed", range(3))
def test_the_order_of_today_stays_where_a_move_costs_more_than_it_saves(seed):
    situation = open_jobs(seed, count=12, tight=3.0)
    today = quick_plan(situation)
    found = replan(with_a_job(situation, None), today, DAY, 0.5, cost=10_000)
    assert found.kept
    assert faults_of(found.plan) == []
    assert found.moved == ()
    assert moved_steps(today, found.plan, DAY) == ()


def test_the_order_of_today_changes_where_that_keeps_a_promise():
    situation = open_jobs(1, count=25, tight=9.0)
    today = quick_plan(situation)
    found = replan(with_a_job(situation, 60), today, DAY, 1.0, cost=10_000)
    assert not found.kept
    assert faults_of(found.plan) == []
    assert score(found.plan).broken < score(found.other).broken


def test_free_moves_are_taken_for_less_waiting():
    situation = open_jobs(2, count=15, tight=3.0)
    today = quick_plan(situation)
    found = replan(situation, today, DAY, 1.0, cost=0)
    assert score(found.plan) <= score(today)
    assert found.kept or found.moved or score(found.plan) < score(found.other)


def test_steps_that_are_done_are_left_out():
    situation = open_jobs(3, count=6, tight=3.0)
    today = quick_plan(situation)
    later = replace(situation, jobs=(replace(situation.jobs[0], finished=2), *situation.jobs[1:]))
    found = replan(later, today, DAY, 0.3, cost=10_000)
    assert faults_of(found.plan) == []
    assert min(each.step for each in found.plan.of_job(later.jobs[0].name)) == 2
