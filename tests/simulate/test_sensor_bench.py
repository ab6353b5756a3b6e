import math

import pytest

from flueproof.simulate.truth import Truth


def test_a_tight_path_stalls_the_pump_and_a_leaking_one_does_not(visit_on):
    tight, leaking = visit_on(), visit_on(Truth(dilution_probe=0.1))
    tight.plug_test("tip")
    leaking.plug_test("tip")
    leaking.plug_test("instrument")
    assert tight.steps[-1]["pump"] == "stalls"
    assert [step["pump"] for step in leaking.steps[-2:]] == ["runs-on", "stalls"]


def test_a_bulb_sees_the_probe_and_nothing_behind_it(visit_on):
    inside, outside = visit_on(Truth(dilution_instrument=0.1)), visit_on(Truth(dilution_probe=0.1))
    inside.bulb_test()
    outside.bulb_test()
    assert inside.steps[-1]["stays_flat"] is True
    assert outside.steps[-1]["stays_flat"] is False


def test_a_vacuum_holds_on_a_tight_instrument_only(visit_on, shown):
    tight, leaking = visit_on(Truth(o2_zero_pct=1.0)), visit_on(Truth(dilution_instrument=0.05))
    tight.vacuum_hold()
    leaking.vacuum_hold()
    assert shown(tight, "vacuum")[-1] > 7.8
    assert shown(leaking, "vacuum")[-1] < 0.5


def test_a_weak_probe_is_low_at_the_probe_and_right_at_the_socket(visit_on, shown):
    visit = visit_on(Truth(probe_emf_error=-0.05), us_units=True)
    visit.temperature("therm-1", 200.0, "stack", "probe")
    assert shown(visit, "stack")[0] == pytest.approx(392.0 - 16.0, abs=2.0)
    visit.temperature("therm-1", 200.0, "stack", "socket")
    assert shown(visit, "stack")[0] == pytest.approx(392.0, abs=1.0)


def test_a_missing_sensor_shows_dashes(visit_on, shown):
    visit = visit_on(Truth(missing=frozenset({"air", "stack"})))
    visit.temperature("therm-air", 22.0, "air", "air-sensor")
    visit.temperature("therm-1", 200.0)
    assert shown(visit, "air", -2) == ["----"] * 3
    assert shown(visit, "stack") == ["----"] * 3


def test_draft_is_held_against_the_manometer_with_its_error(visit_on, shown):
    visit = visit_on(Truth(draft_gain=0.8))
    visit.pressure("mano-1", -100.0)
    assert shown(visit, "draft")[0] == pytest.approx(-80.0, abs=1.0)
    said = visit.steps[-1]["reference_value"]["value"]
    assert said == pytest.approx(-100.0 + visit.instrument_errors["mano-1"], abs=0.051)


def test_flow_is_measured_in_litres_a_minute(visit_on):
    visit = visit_on(Truth(pump_flow_l_min=0.7))
    visit.flow("flow-1")
    value = visit.steps[-1]["reference_value"]
    assert value["unit"] == "l/min"
    assert math.isclose(value["value"], 0.7, abs_tol=0.06)
