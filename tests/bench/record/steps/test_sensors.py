import pytest

from flueproof.analyzer.units import to_core


@pytest.mark.parametrize("of", ["probe", "socket", "air-sensor"])
def test_a_temperature_is_tested_on_probe_socket_or_air_sensor(of, good, read):
    good["steps"][6]["of"] = of
    assert read(good).steps[6].of == of


@pytest.mark.parametrize(("unit", "value"), [("degC", -273.15), ("degF", -459.67), ("K", 0)])
def test_absolute_zero_is_the_coldest_in_every_unit(unit, value, good, read, refused):
    good["steps"][6]["reference_value"] = {"unit": unit, "value": value}
    assert to_core(read(good).steps[6].reference_value.value, unit, "temperature") == pytest.approx(-273.15)
    good["steps"][6]["reference_value"]["value"] = value - 0.01
    assert refused(good).path == "$.steps[6].reference_value.value"


def test_a_draft_is_negative(good, read):
    step = read(good).steps[7]
    assert step.reference_value.value == -25.0
    assert step.readings[0].shown == (-0.10,)


def test_a_computed_value_keeps_its_unit_as_shown(good, read, step):
    reading = {"channel": "excess air", "unit": "1", "step": 0.01, "shown": [1.31]}
    good["steps"].append(step("displayed", phase="as-left", readings=[reading]))
    assert read(good).steps[-1].readings[0].unit == "1"
