"""Plans from other plans."""

from dataclasses import replace

import pytest

from flueproof.promise.schedule.checking import faults_of
from flueproof.promise.schedule.model import Job, Step
from flueproof.promise.schedule.placing.ordering import extend, keep, replay
from flueproof.promise.schedule.quick import quick_plan
from promise.schedule.benches import open_jobs, with_running

NEW = Job("new", (Step("look", 15, 10), Step("gas", 12, 5, station="gas", keeps_station=True), Step("papers", 8)))


def and_new(situation):
    return replace(situation, jobs=(*situation.jobs, NEW))


@pytest.mark.parametrize("seed", range(4))
def test_new_jobs_go_into_gaps_and_nothing_else_moves(seed):
    situation = with_running(open_jobs(seed))
    plan = quick_plan(situation)
    more = extend(and_new(situation), plan)
    assert faults_of(more) == []
    assert set(plan.placed) <= set(more.placed)


@pytest.mark.parametrize("seed", range(4))
def test_a_plan_is_kept_as_it_stands(seed):
    situation = with_running(open_jobs(seed))
    plan = quick_plan(situation)
    assert keep(situation, plan).placed == plan.placed
    assert set(plan.placed) <= set(keep(and_new(situation), plan).placed)


@pytest.mark.parametrize("seed", range(4))
def test_what_cannot_stay_moves_and_the_rest_is_worked_on(seed):
    situation = open_jobs(seed)
    plan = quick_plan(situation)
    ill = replace(situation, shop=situation.shop.without("Cy", [(0, 485)]))
    kept = keep(ill, plan)
    assert faults_of(kept) == []
    assert not [each for each in kept.of_technician("Cy") if each.start < 480]


@pytest.mark.parametrize("seed", range(4))
def test_a_plan_made_again_can_be_worked(seed):
    situation = with_running(open_jobs(seed))
    again = replay(and_new(situation), quick_plan(situation), [NEW], 100)
    assert faults_of(again) == []
