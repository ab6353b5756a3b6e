"""A record that does not fit its profile is refused with the place."""

import pytest

from flueproof.bench.errors import RecordError
from flueproof.bench.judge.judge import judge_record

CO = "cyl-co-500"
ADJUSTED = {"id": "a1", "by": "tester", "kind": "adjust", "accepted": True, "entered": {"unit": "ppm", "value": 502}}


@pytest.fixture(name="refused")
def _refused(start, read):
    """Return where and why a record with one application of gas is refused after a change."""

    def refused(change):
        visit = start()
        visit.test_gas(CO, "tip")
        tree = visit.record()
        change(tree)
        with pytest.raises(RecordError) as caught:
            judge_record(*read(tree))
        return caught.value.path, caught.value.message + " " + caught.value.remedy

    return refused


@pytest.mark.parametrize("unit", ["degC", "Pa", "l/min"])
def test_a_unit_of_another_quantity(refused, unit):
    path, said = refused(lambda tree: tree["steps"][2]["readings"][1].update(unit=unit))
    assert path == "$.steps[2].readings[1].unit"
    assert "CO is measured in ppm" in said
    assert "ppm, %" in said


def test_a_channel_that_the_profile_lacks(refused):
    path, said = refused(lambda tree: tree["steps"][2]["readings"][1].update(channel="so2"))
    assert (path, "'so2'" in said) == ("$.steps[2].readings[1].channel", True)


def test_an_adjustment_of_a_misspelt_channel_would_touch_nothing(refused):
    def change(tree):
        tree["steps"].append(ADJUSTED | {"at": "2026-11-03T18:00:00-05:00", "channel": "CO"})

    path, said = refused(change)
    assert (path, "Use one of o2, co" in said) == ("$.steps[3].channel", True)


@pytest.mark.parametrize("step", [101.0, 1e9, 1e308])
def test_a_display_step_that_hides_everything(refused, step):
    assert refused(lambda tree: tree["steps"][2]["readings"][1].update(step=step))[0] == "$.steps[2].readings[1].step"


def test_a_text_that_no_display_gives(refused):
    path, said = refused(lambda tree: tree["steps"][2]["readings"][1]["shown"].__setitem__(2, "Err 5"))
    assert path == "$.steps[2].readings[1].shown"
    assert "look 3" in said
    assert "OVER" in said


def test_a_limit_of_the_owner_in_a_unit_of_another_quantity(refused):
    def change(tree):
        tree["order"]["limits"] = {"co": {"unit": "degC", "absolute": 5.0}}

    assert refused(change)[0] == "$.order.limits.co.unit"


def test_coarse_steps_and_other_units_of_the_quantity_are_fine(start, read):
    visit = start(us_units=True)
    visit.temperature("therm-1", 200.0)
    visit.pressure("mano-1", -25.0)
    assert len(judge_record(*read(visit)).points) == 2
