import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.simulate.procedure import do_points, serves

RACKS = {
    "two-cell-residential": ("cyl-co-500", "therm-1", "mano-1"),
    "hydrogen-compensated-co": ("cyl-co-500", "therm-1", "mano-1"),
    "three-cell-light-commercial": (
        "cyl-co-500", "cyl-co-50", "cyl-co-1500", "cyl-no-60", "cyl-no-250", "cyl-no-900", "therm-1", "mano-1",
    ),
    "infrared-co2-co-high-range": ("cyl-co-500", "cyl-ir-low", "cyl-ir-mid", "cyl-ir-high", "therm-1", "mano-1"),
}  # fmt: skip


def is_done(point, visit):
    for step in visit.steps:
        if point.kind == "plug-test" and step["kind"] in point.any_of:
            return True
        if step["kind"] == point.kind and step.get("channel") == point.channel:
            return point.holds(step["reference_value"]["value"])
        if point.kind in {"test-gas", "cross"} and step["kind"] == "test-gas":
            reference = visit.head["references"][step["reference"]]
            if step["path"]["feed"] == (point.feed or "tip") and serves(point, reference):
                return True
    return False


@pytest.mark.parametrize("name", list(RACKS))
def test_every_required_point_of_every_shipped_profile_is_done(visit_on, name):
    visit = visit_on(profile=name, references=RACKS[name])
    do_points(visit)
    assert [point.id for point in visit.profile.required_points() if not is_done(point, visit)] == []


def test_one_bottle_serves_co_and_o2_in_one_application(visit_on):
    visit = visit_on(references=RACKS["two-cell-residential"])
    do_points(visit)
    assert [step["kind"] for step in visit.steps].count("test-gas") == 1


def test_points_can_be_added_left_out_and_fed_elsewhere(visit_on):
    visit = visit_on()
    do_points(visit, also=("air-one",), leave_out=("path-tight", "stack-hot"), feed="instrument")
    kinds = [(step["kind"], step.get("channel")) for step in visit.steps[2:]]
    assert ("temperature", "air") in kinds
    assert ("plug-test", None) not in kinds
    assert ("temperature", "stack") not in kinds
    assert all(step["path"]["feed"] == "instrument" for step in visit.steps if step["kind"] == "test-gas")


def test_gas_alone_leaves_temperature_and_draft_out(visit_on):
    visit = visit_on()
    do_points(visit, gas_only=True)
    assert {step["kind"] for step in visit.steps[2:]} == {"test-gas", "plug-test"}


def test_without_a_fitting_bottle_a_point_stays_undone(visit_on):
    visit = visit_on(references=("cyl-no-250",))
    do_points(visit)
    kinds = [step["kind"] for step in visit.steps]
    assert "temperature" not in kinds
    assert [step["reference"] for step in visit.steps if step["kind"] == "test-gas"] == ["cyl-no-250"]  # O2 only


def test_a_nitrogen_blend_holds_none_of_a_gas_it_does_not_name():
    points = {point.id: point for point in shipped_profile("two-cell-residential").points}
    blend = {"kind": "test-gas", "balance": "nitrogen", "components": {"co": {"value": 500.0}}}
    assert serves(points["o2-zero"], blend)
    assert not serves(points["o2-zero"], blend | {"balance": "air"})
    assert not serves(points["co-no-filter"], blend)
