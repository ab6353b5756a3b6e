"""Boxes whose promised day has passed."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.promise.schedule.best import best_plan
from flueproof.promise.schedule.measure import broken_promises, score
from flueproof.promise.schedule.model import Job, Shop, Situation, Step, Technician
from flueproof.promise.schedule.overdue import TWO_DAYS, dated_again
from flueproof.promise.schedule.quick import quick_plan
from promise.schedule.benches import FULL, NIGHT, open_days, open_jobs

SHOP = Shop((Technician("Ann", frozenset({"bench"}), open_days(12)),), (), open_days(12))
LATE = Job("late", (Step("work", 60),), promised=-100)


def work(name, minutes, promised):
    return Job(name, (Step("work", minutes),), promised=promised)


@pytest.mark.parametrize("planned", [quick_plan, lambda situation: best_plan(situation, 1)], ids=["quick", "best"])
def test_a_late_box_goes_before_those_with_far_dates(planned):
    far = tuple(work(f"far {number}", 45, 4 * FULL + number) for number in range(6))
    plan = planned(Situation(SHOP, (*far, LATE)))
    assert plan.ends["late"] == 60
    assert broken_promises(plan) == ["late"]


@pytest.mark.parametrize("seed", range(3))
def test_it_goes_before_far_dates_on_a_bench_with_stations_too(seed):
    situation = open_jobs(seed, count=20)
    far = tuple(replace(job, promised=8 * FULL, release=0, weight=1) for job in situation.jobs)
    late = replace(far[0], name="late", promised=-1)
    plan = quick_plan(replace(situation, jobs=(*far, late)))
    assert broken_promises(plan) == ["late"]
    assert plan.ends["late"] == min(plan.ends.values()) or plan.ends["late"] <= late.minutes + 30


def test_at_once_it_waits_where_going_first_would_break_another_promise():
    near = work("near", 50, 70)
    assert quick_plan(Situation(SHOP, (near, LATE))).ends == {"near": 50, "late": 110}


def test_in_some_seconds_it_goes_first_where_less_lateness_comes_of_it_as_by_due_date():
    near = work("near", 50, 70)
    assert best_plan(Situation(SHOP, (near, LATE)), 1).ends == {"late": 60, "near": 110}


def day_by_day(again):
    """Work a bench that new boxes fill every day, each promised for its day; return on which day the late one ends."""
    late, left = work("late", 200, -100), []
    for day in range(9):
        new = [work(f"day {day} box {number}", 120, FULL - NIGHT) for number in range(4)]
        plan = quick_plan(Situation(SHOP, (*(again(job) for job in left), again(late), *new)))
        if plan.ends["late"] <= FULL - NIGHT:
            return day
        kept = [job for job in (*left, *new) if plan.ends[job.name] > FULL - NIGHT]
        left = [replace(job, promised=job.promised - FULL) for job in kept]
        late = replace(late, promised=late.promised - FULL)
    return None


def test_a_full_bench_puts_it_off_for_ever_unless_it_has_a_date_again():
    assert day_by_day(lambda job: job) is None
    found = day_by_day(dated_again)
    assert found is not None
    assert found <= 4


@given(st.integers(-20_000, 0), st.integers(1, 3), st.integers(1, 2000))
def test_the_next_date_is_the_first_to_come_and_each_that_passed_weighs(promised, weight, every):
    found = dated_again(Job("J", (), promised=promised, weight=weight), every)
    assert found.promised is not None
    assert 0 < found.promised <= every
    assert found.promised - promised == every * (found.weight - weight)


@pytest.mark.parametrize("promised", [None, 1, 500])
def test_who_is_not_late_keeps_the_date(promised):
    job = Job("J", (), promised=promised)
    assert dated_again(job) is job


def test_what_was_told_stays_broken():
    situation = Situation(SHOP, (LATE,))
    plan = quick_plan(replace(situation, jobs=(dated_again(LATE, TWO_DAYS),)))
    assert score(plan).broken == 0
    assert score(replace(plan, situation=situation)).broken == 1
