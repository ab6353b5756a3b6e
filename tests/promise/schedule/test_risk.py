"""How likely each promise is kept."""

import math
import random
from dataclasses import replace

import numpy as np
import pytest

from flueproof.promise.schedule.learning import Finished, learn
from flueproof.promise.schedule.model import Job, Placed, Shop, Situation, Step, Technician
from flueproof.promise.schedule.quick import quick_plan
from flueproof.promise.schedule.risk import chances, outcomes
from promise.schedule.benches import open_days, open_jobs
from promise.schedule.worked import worked


def one(minutes, promised):
    hours = open_days(5)
    shop = Shop((Technician("Ann", frozenset({"bench"}), hours),), (), hours)
    return quick_plan(Situation(shop, (Job("J", (Step("work", minutes),), promised=promised),)))


def test_a_promise_far_off_is_sure_and_one_at_the_middle_is_even():
    assert chances(one(60, 400), 0.3, draws=300)["J"] > 0.98
    assert chances(one(60, 60), 0.3, draws=300)["J"] == pytest.approx(0.5, abs=0.08)
    assert chances(one(60, 30), 0.3, draws=300)["J"] < 0.05


def test_no_probability_is_0_or_1():
    assert 0 < chances(one(60, 1), 0.1)["J"] < chances(one(60, 2000), 0.1)["J"] < 1


def test_a_greater_spread_makes_a_promise_with_slack_less_sure():
    assert chances(one(60, 75), 0.6, draws=300)["J"] < chances(one(60, 75), 0.15, draws=300)["J"]


def test_the_spread_can_be_given_for_each_step():
    asked = []

    def spread(job, step):
        asked.append((job.name, step.name))
        return 0.2

    chances(one(60, 75), spread)
    assert asked == [("J", "work")]


def test_the_same_numbers_are_drawn_for_the_same_step_in_another_plan():
    situation = open_jobs(1, count=6)
    fewer = replace(situation, jobs=situation.jobs[:1])
    alone, among = outcomes(quick_plan(fewer), 0.3, 20), outcomes(quick_plan(situation), 0.3, 20)
    name = situation.jobs[0].name
    assert np.all(alone[name] <= among[name])
    assert np.any(alone[name] == among[name])


def test_jobs_without_a_promise_have_no_probability():
    situation = open_jobs(1, count=4)
    free = replace(situation, jobs=(replace(situation.jobs[0], promised=None), *situation.jobs[1:]))
    assert situation.jobs[0].name not in chances(quick_plan(free), draws=5)


def test_work_that_runs_lasts_at_least_until_now():
    job = Job("J", (Step("work", 60), Step("papers", 10)), promised=40)
    hours = open_days(5)
    shop = Shop((Technician("Ann", frozenset({"bench"}), hours),), (), hours)
    running = (Placed("J", 0, -55, 5, 5, "Ann"),)
    ends = outcomes(quick_plan(Situation(shop, (job,), running)), 0.3, 50)["J"]
    assert np.all(ends > 1)
    assert len(set(ends.tolist())) > 10


def test_where_the_hours_end_before_it_the_job_never_ends_in_that_draw():
    hours = ((0, 60),)
    shop = Shop((Technician("Ann", frozenset({"bench"}), hours),), (), hours)
    plan = quick_plan(Situation(shop, (Job("J", (Step("work", 55),), promised=60),)))
    ends = outcomes(plan, 0.3, 100)["J"]
    assert np.isinf(ends).any()
    assert np.isfinite(ends).any()


def test_what_is_said_comes_true_as_often_as_said():
    """Truth: other minutes than those the probabilities are drawn from, worked by a clock that knows no plan but turns.

    Minutes and spread are learned from earlier jobs of the same truth. Said and true are compared over all promises,
    and for those said unlikely and likely.
    """
    rng = random.Random(5)  # noqa: S311

    def true_minutes(middle):
        trouble = 2.5 if rng.random() < 0.03 else 1.0
        return max(1, round(middle * math.exp(0.28 * rng.gauss(0, 1)) * trouble))

    minutes = learn([Finished("m", "s", "x", true_minutes(40)) for _ in range(200)], {"x": 40})
    spread = minutes.of("m", "s", "x").spread
    said, true = [], []
    for seed in range(14):
        plan = quick_plan(open_jobs(seed, count=22, tight=0.8))
        probability = chances(plan, spread, draws=30)
        for _ in range(2):
            truth = {
                (job.name, which): true_minutes(step.hands_on)
                for job in plan.situation.jobs
                for which, step in enumerate(job.steps)
            }
            ends = worked(plan, truth, 12 * 485)
            for job in plan.situation.jobs:
                if job.promised is not None:
                    said.append(probability[job.name])
                    true.append(ends.get(job.name, math.inf) <= job.promised)
    said, true = np.array(said), np.array(true)
    assert len(said) > 500
    assert said.mean() == pytest.approx(true.mean(), abs=0.06)
    unsure, likely, unlikely = (said > 0.2) & (said < 0.8), said > 0.9, said < 0.1
    assert unsure.sum() > 30
    assert true[unsure].mean() == pytest.approx(said[unsure].mean(), abs=0.15)
    assert true[likely].mean() > 0.9
    assert true[unlikely].mean() < 0.15
