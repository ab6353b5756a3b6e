import pytest


@pytest.fixture
def component(good):
    return good["references"]["cyl-co-500"]["components"]["co"]


def test_a_zero_gas_states_the_component_as_zero_with_its_uncertainty(good, component, read):
    component.update(value=0, expanded_uncertainty=0.5)
    assert read(good).references["cyl-co-500"].components["co"].value == 0


def test_a_blend_may_have_several_components(good, read):
    good["references"]["cyl-co-500"]["components"]["o2"] = {"unit": "%", "value": 4.0, "stated_accuracy_pct": 1.0}
    components = read(good).references["cyl-co-500"].components
    assert set(components) == {"co", "o2"}
    assert components["o2"].k is None


@pytest.mark.parametrize(("unit", "value", "percent"), [("ppm", 502.0, 0.0502), ("%", 14.0, 14.0)])
def test_a_component_knows_its_share_of_the_gas(unit, value, percent, good, component, read):
    component.update(unit=unit, value=value)
    assert read(good).references["cyl-co-500"].components["co"].percent == pytest.approx(percent)


def test_components_that_fill_the_whole_cylinder_are_allowed(good, component, read):
    component.update(unit="%", value=60.0)
    good["references"]["cyl-co-500"]["components"]["co2"] = {"unit": "%", "value": 40.0, "stated_accuracy_pct": 1.0}
    assert read(good).references["cyl-co-500"].components["co2"].value == 40.0


def test_components_beyond_the_whole_cylinder_are_refused(good, component, refused):
    component.update(unit="%", value=61.0)
    good["references"]["cyl-co-500"]["components"]["co2"] = {"unit": "%", "value": 40.0, "stated_accuracy_pct": 1.0}
    error = refused(good)
    assert error.path == "$.references['cyl-co-500'].components"
    assert "101 %" in error.message


def test_a_certificate_may_expire_on_its_own_day(good, read):
    good["references"]["cyl-co-500"]["expires"] = "2026-02-01"
    assert read(good).references["cyl-co-500"].kind == "test-gas"


def test_an_expired_gas_is_read_because_the_judge_must_say_so(good, read):
    good["references"]["cyl-co-500"]["expires"] = "2026-03-01"
    assert read(good).steps[2].at.date() > read(good).references["cyl-co-500"].expires


def test_a_flow_meter_is_a_reference(good, read, step):
    good["references"]["flow-1"] = {
        "kind": "flow-meter",
        "certificate": "F-7",
        "unit": "l/min",
        "expanded_uncertainty": 0.02,
        "k": 2.0,
        "due": "2027-05-01",
    }
    good["steps"].append(
        step("flow", phase="as-left", reference="flow-1", reference_value={"unit": "l/min", "value": 1.1})
    )
    assert read(good).steps[-1].readings == ()
