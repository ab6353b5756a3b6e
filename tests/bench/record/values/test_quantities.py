import pytest
from pydantic import ValidationError

from flueproof.analyzer.units import units_of
from flueproof.bench.record.values import quantities
from flueproof.bench.record.values.quantities import Flow, Pressure, Quantity, Temperature


def test_every_unit_that_can_be_converted_is_known_here():
    convertible = {unit for core in ("%", "ppm", "degC", "Pa") for unit in units_of(core)}
    assert convertible == set(quantities.KNOWN_UNITS) - set(quantities.FLOW_UNITS)


@pytest.mark.parametrize("unit", quantities.KNOWN_UNITS)
def test_a_quantity_may_have_every_known_unit(unit):
    assert Quantity.model_validate({"unit": unit, "value": 1}).unit == unit


@pytest.mark.parametrize(("model", "unit"), [(Temperature, "Pa"), (Pressure, "degC"), (Flow, "%"), (Quantity, "pa")])
def test_a_unit_of_another_quantity_is_refused(model, unit):
    with pytest.raises(ValidationError, match="is no unit"):
        model.model_validate({"unit": unit, "value": 1})


@pytest.mark.parametrize("unit", [None, 5, ["Pa"]])
def test_a_unit_is_text(unit):
    with pytest.raises(ValidationError, match="is no unit"):
        Pressure.model_validate({"unit": unit, "value": 1})
