"""What the gas path calls for, and the cheapest test that can tell."""

import pytest

from flueproof.bench.judge.judge import examine_record
from flueproof.bench.verdict.path_actions import path_actions

CO = "cyl-co-500"


@pytest.fixture(name="after")
def _after(start, read, truth):
    """Do some things on a truth, return (do, where) and details of the path's actions."""

    def after(*doing, **fault):
        visit = start(truth(**fault), seed=4)
        for name, *arguments in doing:
            getattr(visit, name)(*arguments)
        return path_actions(examine_record(*read(visit)).found)

    return after


def acts(actions):
    return [(action.do, action.where) for action in actions]


TIP, INLET = ("test_gas", CO, "tip"), ("test_gas", CO, "instrument")
PLUG_TIP, PLUG_INLET, HOLD = ("plug_test", "tip"), ("plug_test", "instrument"), ("vacuum_hold", "instrument")


def test_a_tight_path_calls_for_nothing(after):
    assert after(TIP, PLUG_TIP) == []


def test_a_leak_in_the_probe_is_mended_and_checked(after):
    found = after(TIP, INLET, dilution_probe=0.06)
    assert acts(found) == [("mend-path", "probe"), ("check-path", None)]
    assert found[0].lr > 10.0
    assert "room air" in found[0].why


def test_a_stretch_between_feeds_is_named(after):
    found = after(TIP, ("test_gas", CO, "after-trap"), INLET, dilution_probe=0.06)
    assert found[0].detail == {"between": ["tip", "after-trap"]}


def test_a_leak_inside_shown_by_a_plug_is_mended_there(after):
    assert acts(after(TIP, INLET, PLUG_INLET, dilution_instrument=0.08)) == [
        ("mend-path", "instrument"),
        ("check-path", None),
    ]


def test_both_leaks_are_mended_outside_in(after):
    found = after(TIP, INLET, PLUG_INLET, dilution_probe=0.1, dilution_instrument=0.08)
    assert acts(found) == [("mend-path", "probe"), ("mend-path", "instrument"), ("check-path", None)]


def test_a_leak_that_is_not_located_is_located_before_it_is_mended(after):
    found = after(TIP, PLUG_TIP, dilution_probe=0.08)
    assert acts(found) == [("separate", "instrument"), ("mend-path", None), ("check-path", None)]
    assert "Plug the instrument's inlet" in found[0].why


class TestSeparating:
    """No gas before gas, the owner's part before the case: each test asked for is one that was not done."""

    @pytest.mark.parametrize(
        ("doing", "test"),
        [
            ((TIP,), ("plug-test", "tip")),
            ((TIP, INLET), ("plug-test", "tip")),
            ((INLET,), ("plug-test", "instrument")),
        ],
    )
    def test_the_cheapest_test_that_was_not_done(self, after, doing, test):
        action = after(*doing, dilution_instrument=0.05)[-1]
        assert action.do == "separate"
        assert (action.detail["test"], action.detail["feed"]) == test
        assert action.detail["words"] in action.why

    def test_it_is_asked_for_beside_a_leaking_probe_too(self, after):
        found = after(TIP, INLET, dilution_probe=0.1, o2_zero_pct=1.0)
        assert acts(found) == [("mend-path", "probe"), ("check-path", None), ("separate", "instrument")]

    def test_a_plug_that_held_settles_it(self, after):
        assert after(TIP, INLET, PLUG_TIP, o2_zero_pct=1.0) == []

    def test_without_gas_nothing_needs_to_be_separated(self, after):
        assert after(("temperature", "therm-1", 200.0)) == []
