"""Tightness tests as the gas path takes them, and what is said of them."""

import pytest

from flueproof.analyzer.gas_path.evidence import Evidence
from flueproof.bench.judge.tests_of_path import path_tests, tightness_checks


@pytest.fixture(name="tests_of")
def _tests_of(read):
    return lambda visit, phase="as-found": path_tests(read(visit)[0], phase)


def test_each_kind_of_test_comes_with_what_was_seen(start, tests_of):
    visit = start()
    visit.plug_test("tip")
    visit.bulb_test()
    visit.vacuum_hold("instrument")
    plug, bulb, hold = tests_of(visit)
    assert (plug.kind, plug.feed, plug.saw, plug.hiss) == ("plug-test", "tip", "stalls", True)
    assert (bulb.kind, bulb.saw) == ("bulb-test", "flat")
    assert hold.vacuum_kpa[0] == pytest.approx(8.0)
    assert hold.times_s == (0, 10, 20, 30)


def test_a_vacuum_in_another_unit_is_the_same_vacuum(start, tests_of):
    visit = start()
    visit.vacuum_hold("instrument")
    reading = visit.steps[-1]["readings"][0]
    reading.update(unit="mbar", step=0.1, shown=[value * 10 for value in reading["shown"]])
    assert tests_of(visit)[0].vacuum_kpa[0] == pytest.approx(8.0)


def test_the_shops_own_probe_says_nothing_of_the_owners(start, tests_of):
    visit = start()
    visit.plug_test("tip", probe="shop")
    assert tests_of(visit) == []


def test_only_standing_tests_of_the_phase_count(start, tests_of):
    visit = start()
    struck = visit.plug_test("tip")
    visit.happening("strike", strikes=struck, why="plug not seated")
    visit.as_left()
    visit.plug_test("instrument")
    assert tests_of(visit) == []
    assert [test.feed for test in tests_of(visit, "as-left")] == ["instrument"]


@pytest.mark.parametrize(("ratio", "ok"), [(0.05, True), (0.1, True), (0.5, None), (9.9, None), (10.0, False)])
def test_a_check_says_tight_leaking_or_nothing_clear(ratio, ok):
    check = tightness_checks("as-found", [Evidence("s4", "plug-test", "tip", ratio, "words")], 10.0)[0]
    assert (check.ok, check.value, check.step, check.kind) == (ok, ratio, "s4", "plug-test")
