"""Steps put where people and stations leave room."""

from dataclasses import replace

import pytest

from flueproof.promise.schedule.best import best_plan
from flueproof.promise.schedule.checking import faults_of
from flueproof.promise.schedule.measure import score
from flueproof.promise.schedule.model import Job, Shop, Situation, Station, Step, Technician
from flueproof.promise.schedule.placing.board import Board
from flueproof.promise.schedule.placing.ordering import place_in_order
from flueproof.promise.schedule.quick import quick_plan
from promise.schedule.benches import open_jobs

HOURS = ((0, 480),)
BENCH = frozenset({"bench"})
GAS, DRAFT = Step("gas", 10, station="gas"), Step("draft", 10, station="draft")
BOTH = Station("both", "gas", also=frozenset({"draft"}))


def shop(*stations):
    return Shop(tuple(Technician(f"P{number}", BENCH, HOURS) for number in range(3)), stations, HOURS)


def test_a_station_for_two_kinds_is_used_now_for_one_and_now_for_the_other():
    situation = Situation(shop(BOTH), (Job("a", (GAS,)), Job("b", (DRAFT,))))
    plan = place_in_order(situation, situation.jobs)
    assert [(each.job, each.start, each.station) for each in plan.of_station("both")] == [
        ("a", 0, "both"),
        ("b", 10, "both"),
    ]
    assert faults_of(plan) == []


def test_a_station_that_can_do_little_is_taken_first():
    situation = Situation(shop(BOTH, Station("only gas", "gas")), (Job("a", (GAS,)), Job("b", (DRAFT,))))
    plan = place_in_order(situation, situation.jobs)
    assert {each.job: each.station for each in plan.placed} == {"a": "only gas", "b": "both"}
    assert set(plan.ends.values()) == {10}


def test_what_cannot_be_done_at_a_station_is_found_by_the_checker():
    situation = Situation(shop(BOTH, Station("only gas", "gas")), (Job("b", (DRAFT,)),))
    plan = place_in_order(situation, situation.jobs)
    wrong = replace(plan, placed=(replace(plan.placed[0], station="only gas"),))
    assert faults_of(wrong) == ["b, step 0: at 'only gas' instead of a station for 'draft'"]


@pytest.mark.parametrize("seed", range(3))
def test_stations_for_more_kinds_never_make_the_best_plan_worse(seed):
    situation = open_jobs(seed, count=6, tight=0.4)
    kinds = frozenset({"gas", "temperature", "draft"})
    anywhere = tuple(replace(each, also=kinds - {each.kind}) for each in situation.shop.stations)
    freer = replace(situation, shop=replace(situation.shop, stations=anywhere))
    before, after = best_plan(situation, 20), best_plan(freer, 20)
    assert faults_of(after) == faults_of(quick_plan(freer)) == []
    if before.found == after.found == "proved best":
        assert score(after) <= score(before)


def test_a_copy_is_filled_apart_from_its_model():
    situation = Situation(shop(BOTH), (Job("a", (GAS,)), Job("b", (DRAFT,))))
    board = Board(situation)
    board.place(situation.jobs[0])
    twin = board.copy()
    twin.place(situation.jobs[1])
    assert board.plan().ends == {"a": 10, "b": 0}
    assert twin.plan().ends == {"a": 10, "b": 20}
