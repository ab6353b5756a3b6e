"""A fuel as a value."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.errors import FuelError
from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.fuels.reading import shipped_fuels


def gas(**composition):
    return Fuel("own", "own gas", "gas", composition, "test")


def test_methane_is_one_carbon_and_four_hydrogen():
    assert gas(CH4=100.0).atoms == (1.0, 4.0, 0.0, 0.0, 0.0)


def test_a_kilogram_of_water_is_fifty_five_moles():
    wet = Fuel("w", "wet wood", "solid", {"C": 50.0, "H": 5.0, "water": 45.0}, "test")
    dry = Fuel("d", "dry wood", "solid", {"C": 50.0, "H": 5.0, "ash": 45.0}, "test")
    assert wet.atoms.oxygen == pytest.approx(0.45 * 1000.0 / 18.015)
    assert wet.atoms.hydrogen - dry.atoms.hydrogen == pytest.approx(2.0 * wet.atoms.oxygen)
    assert dry.atoms.oxygen == 0.0


@given(st.floats(0.997, 1.003))
def test_parts_that_add_up_to_nearly_100_are_scaled(scale):
    assert gas(CH4=90.0 * scale, N2=10.0 * scale).atoms == pytest.approx(gas(CH4=90.0, N2=10.0).atoms)


def test_a_fuel_cannot_be_changed_afterwards():
    fuel = gas(CH4=100.0)
    with pytest.raises(TypeError):
        fuel.composition["CH4"] = 50.0


def test_two_equal_fuels_are_one_key_of_a_table():
    assert {gas(CH4=100.0): 1}[gas(CH4=100.0)] == 1


@pytest.mark.parametrize(
    ("composition", "said"),
    [
        ({"CH4": 90.0}, "add up to 90 %"),
        ({"CH4": 100.0, "N2": 2.0}, "add up to 102 %"),
        ({"CH4": 101.0, "N2": -1.0}, "no share"),
        ({"CH4": float("nan"), "N2": 100.0}, "no share"),
        ({"CH4": True, "N2": 99.0}, "no share"),
        ({"CH4": "100"}, "no share"),
        ({"methane": 100.0}, "not known for a gas"),
        ({"C": 100.0}, "not known for a gas"),
        ({"source": 100.0}, "not known for a gas"),
        ({"N2": 100.0}, "nothing in it burns"),
        ({"CO2": 60.0, "H2O": 40.0}, "nothing in it burns"),
    ],
)
def test_a_gas_that_cannot_be_is_refused_with_its_place(composition, said):
    with pytest.raises(FuelError, match=said) as caught:
        gas(**composition)
    assert caught.value.place.startswith("own, composition")
    assert caught.value.problem in str(caught.value)


def test_an_unknown_kind_is_refused():
    with pytest.raises(FuelError, match="gas, liquid, solid"):
        Fuel("own", "own", "plasma", {"CH4": 100.0}, "test")


def test_ash_alone_does_not_burn():
    with pytest.raises(FuelError, match="nothing in it burns"):
        Fuel("own", "own", "solid", {"ash": 60.0, "water": 40.0}, "test")


@pytest.mark.parametrize("key", shipped_fuels())
def test_the_unit_of_a_shipped_fuel_follows_its_kind(key):
    fuel = shipped_fuels()[key]
    assert fuel.unit == ("mol" if fuel.kind == "gas" else "kg")
    assert fuel.key == key
    assert not fuel.own
