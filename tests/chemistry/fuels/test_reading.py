"""Fuels from text."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.emissions.f_factors import published_groups
from flueproof.chemistry.errors import ChemistryError, FuelError, UnknownFuelError
from flueproof.chemistry.fuels.reading import LONGEST_TEXT, read_fuel, shipped_fuel, shipped_fuels
from flueproof.chemistry.plausibility.fo import published_fo_ranges

GAS = """
name = "gas of the town (invented)"
kind = "gas"
source = "analysis of the supplier (invented)"
composition = { CH4 = 88.0, C2H6 = 6.0, CO2 = 1.5, N2 = 4.5 }
fo = "natural-gas"
epa = "natural-gas"
german = "public-gas"
"""
OIL = """
name = "own oil (invented)"
kind = "liquid"
source = "paper of the supplier (invented)"
composition = { C = 86.5, H = 13.4, S = 0.1 }
gross_mj_kg = 45.6
gross_source = "paper of the supplier (invented)"
"""


def test_a_gas_of_a_shop():
    fuel = read_fuel(GAS, "town-gas")
    assert (fuel.key, fuel.kind, fuel.own, fuel.epa_group) == ("town-gas", "gas", True, "natural-gas")
    assert fuel.fo_range.low == 1.6
    assert fuel.german_group == "public-gas"


def test_an_oil_with_a_measured_heating_value():
    assert read_fuel(OIL, "own-oil").gross_mj_kg == 45.6


def test_each_shipped_fuel_has_a_name_and_a_source():
    fuels = shipped_fuels()
    assert {"natural-gas-us", "propane", "heating-oil", "wood-pellets"} <= set(fuels)
    assert all(fuel.source and fuel.name for fuel in fuels.values())
    assert shipped_fuel("propane") is fuels["propane"]


def test_every_group_of_f_factors_and_of_fo_has_a_fuel():
    fuels = shipped_fuels().values()
    assert {fuel.epa_group for fuel in fuels} == set(published_groups())
    assert {fuel.fo_range for fuel in fuels} == {one.fo for one in published_fo_ranges()}


def test_a_fuel_that_is_not_shipped_is_refused_with_the_names_that_are():
    with pytest.raises(UnknownFuelError, match="heating-oil"):
        shipped_fuel("peat")


@pytest.mark.parametrize(
    ("old", "new", "place", "said"),
    [
        ('kind = "gas"', "", "town, kind", "missing"),
        ('kind = "gas"', 'kind = "vapor"', "town, kind", "gas, liquid, solid"),
        ('kind = "gas"', "kind = 3", "town, kind", "no text"),
        ('name = "gas of the town (invented)"', 'name = "  "', "town, name", "missing or empty"),
        ('source = "analysis of the supplier (invented)"', "", "town, source", "missing"),
        ("composition = { CH4 = 88.0, C2H6 = 6.0, CO2 = 1.5, N2 = 4.5 }", "", "town, composition", "missing"),
        ("composition = { CH4", "composition = { Xe", "town, composition, Xe", "not known"),
        ("CH4 = 88.0", "CH4 = 80.0", "town, composition", "add up to 92 %"),
        ("CH4 = 88.0", "CH4 = -1", "town, composition, CH4", "no share"),
        ("CH4 = 88.0", "CH4 = inf", "town, composition, CH4", "no share"),
        ("CH4 = 88.0", "CH4 = [1]", "town, composition, CH4", "no share"),
        ('fo = "natural-gas"', 'fo = "source"', "town, fo", "not known"),
        ('epa = "natural-gas"', 'epa = "peat"', "town, epa", "write one of"),
        ('german = "public-gas"', 'german = "peat"', "town, german", "leave it out"),
        ('german = "public-gas"', "colour = 1", "town, colour", "allowed are"),
        ('german = "public-gas"', "gross_mj_kg = 50.0", "town, gross_mj_kg", "leave it out"),
        ('kind = "gas"', 'kind = "gas', "town", "not TOML"),
    ],
)
def test_a_text_with_a_fault_is_refused_with_place_and_advice(old, new, place, said):
    assert old in GAS
    with pytest.raises(FuelError, match=said) as caught:
        read_fuel(GAS.replace(old, new), "town")
    assert caught.value.place == place


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ("H = 13.4", "ash = 13.4", "own, composition, H"),
        ("gross_mj_kg = 45.6", "gross_mj_kg = 0", "own, gross_mj_kg"),
        ("gross_mj_kg = 45.6", "gross_mj_kg = true", "own, gross_mj_kg"),
        ('gross_source = "paper of the supplier (invented)"', "", "own, gross_source"),
        ("composition = { C", "composition = { CH4", "own, composition, CH4"),
    ],
)
def test_an_oil_with_a_fault_is_refused_with_its_place(old, new, place):
    with pytest.raises(FuelError) as caught:
        read_fuel(OIL.replace(old, new), "own")
    assert caught.value.place == place


def test_mud_is_no_fuel():
    """More water than its carbon can boil off."""
    mud = 'name = "mud"\nkind = "solid"\nsource = "test"\ncomposition = { C = 2.0, H = 0.3, water = 97.7 }'
    with pytest.raises(FuelError, match="leaves no heat"):
        read_fuel(mud, "mud")


def test_a_text_that_is_too_long_is_not_read():
    with pytest.raises(FuelError, match="characters"):
        read_fuel("#" * (LONGEST_TEXT + 1), "town")


@given(st.text(max_size=200))
def test_no_text_makes_anything_but_a_fuel_error(text):
    with pytest.raises(ChemistryError):
        read_fuel(text, "any")
