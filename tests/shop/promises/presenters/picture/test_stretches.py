"""Stretches of work: hands and waiting told apart, a station taken only as long as the plan takes it."""

import datetime as dt
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from flueproof.promise.schedule.checking import faults_of
from flueproof.shop.promises.presenters.picture.stretches import Stretch, by_person, by_station, rows_of
from flueproof.shop.records.promises.plan.bench import bench_at
from flueproof.shop.records.promises.plan.content import Work, as_content, work_of
from flueproof.shop.records.promises.planning import planned
from shop.planned import MONDAY, give_hours, make_job, make_stations


def at(minute):
    return MONDAY + dt.timedelta(minutes=minute)


def work(job, step, start, hands, waiting=0, *, who="Vale", where="Bench 1", keeps=False):
    return Work(job, step, at(start), at(start + hands), at(start + hands + waiting), who, where, keeps)


def overlaps(stretches):
    rows = sorted(stretches, key=lambda one: (one.lane, one.start))
    return [(one, other) for one, other in pairwise(rows) if one.lane == other.lane and other.start < one.end]


def test_a_station_is_taken_while_it_is_kept_and_the_time_between_is_waiting():
    steps = [work("A", "look", 0, 10, 15, keeps=True), work("A", "gas", 40, 20, 10, keeps=True)]
    (one,) = by_station(steps)
    assert (one.start, one.end) == (at(0), at(70))
    assert one.waits == ((at(10), at(40)), (at(60), at(70)))
    assert one.waiting == 40
    assert one.words == "Look over, warm up, Test gas"


def test_what_settles_aside_after_its_last_step_takes_no_station():
    steps = [work("A", "as-left", 0, 15, 10), work("B", "look", 15, 10, 15, keeps=True)]
    found = by_station(steps)
    assert [(one.job, one.end) for one in found] == [("A", at(15)), ("B", at(40))]
    assert overlaps(found) == []


def test_a_station_is_not_taken_for_a_next_step_at_another_one():
    steps = [work("A", "look", 0, 10, 15, keeps=True), work("A", "draft", 90, 8, where="Bench 2")]
    assert by_station(steps)[0].end == at(25)


def test_a_person_is_drawn_with_hands_only_and_free_while_it_waits():
    steps = [work("A", "look", 0, 10, 15), work("B", "look", 10, 10, 15), work("A", "gas", 25, 20, 10)]
    found = by_person(steps)
    assert [(one.job, one.start, one.end, one.waits) for one in found] == [
        ("A", at(0), at(10), ()),
        ("B", at(10), at(20), ()),
        ("A", at(25), at(45), ()),
    ]


def test_steps_of_one_job_at_once_after_each_other_are_one_stretch():
    assert [one.words for one in by_person([work("A", "draft", 0, 8), work("A", "sign", 8, 8)])] == [
        "Draft, Read and sign"
    ]


def test_a_plan_without_a_fault_is_drawn_without_an_overlap(shop, people, owner):
    give_hours(people)
    make_stations()
    for number in range(12):
        make_job(owner, number + 1, service=("verify", "verify-adjust", "repair")[number % 3])
    bench = bench_at(MONDAY)
    plan, _ = planned(bench, None, 0)
    assert faults_of(plan) == []
    drawn = work_of(as_content(bench, plan, {}))
    assert overlaps(by_station(drawn)) == []
    assert overlaps(by_person(drawn)) == []
    assert any(one.waits for one in by_station(drawn))


def test_a_part_of_a_day_keeps_the_waiting_that_lies_in_it():
    one = Stretch("Bench 1", "station", "A", "Repair", at(0), at(100), ((at(20), at(60)), (at(80), at(100))))
    part = one.within(at(40), at(70))
    assert (part.start, part.end, part.waits) == (at(40), at(70), ((at(40), at(60)),))
    assert one.within(at(100), at(200)) is None


@given(st.lists(st.tuples(st.integers(0, 500), st.integers(1, 100)), max_size=30))
def test_no_stretch_lies_over_another_in_its_row_and_none_is_lost(spans):
    stretches = [
        Stretch("Vale", "person", f"J{number}", "", at(start), at(start + took))
        for number, (start, took) in enumerate(spans)
    ]
    rows = rows_of(stretches)
    assert sorted(one.job for row in rows for one in row) == sorted(one.job for one in stretches)
    assert all(one.end <= other.start for row in rows for one, other in pairwise(row))
