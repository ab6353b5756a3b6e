"""Heating values from composition, or as measured."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.fuels.heating import heating_value, outside_mass_formula
from flueproof.chemistry.fuels.reading import shipped_fuels


def oil(**more):
    return Fuel("own", "own oil", "liquid", {"C": 86.0, "H": 14.0}, "test", **more)


def test_a_measured_value_goes_before_the_formula():
    measured = heating_value(oil(gross_mj_kg=45.6, gross_source="paper of the supplier (invented)"))
    assert measured.gross_kj == 45_600.0
    assert "supplier" in measured.source
    assert heating_value(oil()).gross_kj != measured.gross_kj


@pytest.mark.parametrize("key", shipped_fuels())
def test_net_is_gross_less_the_heat_of_all_the_water(key):
    fuel = shipped_fuels()[key]
    heat = heating_value(fuel)
    assert heat.gross_kj - heat.net_kj == pytest.approx(44.004 * fuel.atoms.hydrogen / 2.0)
    assert heat.source


@given(st.floats(0.0, 60.0))
def test_moisture_lowers_both_values_of_wood(water):
    dry = 1.0 - water / 100.0
    parts = {"C": 50.0 * dry, "H": 6.0 * dry, "O": 44.0 * dry, "water": water}
    wet, bone_dry = (
        heating_value(Fuel("w", "wood", "solid", each, "test")) for each in (parts, {"C": 50.0, "H": 6.0, "O": 44.0})
    )
    assert wet.gross_kj == pytest.approx(dry * bone_dry.gross_kj)
    assert wet.net_kj <= dry * bone_dry.net_kj + 1e-6


def test_water_vapor_in_a_gas_adds_to_the_gross_value_what_it_gives_when_it_condenses():
    """So that the net value of the rest stays what it was."""
    wet = heating_value(Fuel("g", "wet gas", "gas", {"CH4": 98.0, "H2O": 2.0}, "test"))
    dry = heating_value(Fuel("g", "dry gas", "gas", {"CH4": 100.0}, "test"))
    assert wet.net_kj == pytest.approx(0.98 * dry.net_kj)


def test_what_lies_outside_the_formula_is_named():
    assert outside_mass_formula(oil()) == ()
    strange = Fuel("s", "slag", "solid", {"C": 15.0, "H": 0.1, "ash": 84.9}, "test")
    assert outside_mass_formula(strange) == ("H", "ash")
    assert outside_mass_formula(oil(gross_mj_kg=40.0, gross_source="test")) == ()
    assert outside_mass_formula(shipped_fuels()["methane"]) == ()


@pytest.mark.parametrize("key", shipped_fuels())
def test_every_shipped_fuel_lies_inside_the_formula(key):
    assert outside_mass_formula(shipped_fuels()[key]) == ()
