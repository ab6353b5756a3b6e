"""Complete combustion with just enough air."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.combustion.air import CombustionAir
from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.fuels.reading import shipped_fuel, shipped_fuels

KEYS = st.sampled_from(sorted(shipped_fuels()))


@given(KEYS, st.floats(0.0, 0.1))
def test_what_goes_in_comes_out(key, water_share):
    """The atoms of fuel and air are those of the flue gas."""
    fuel, air = shipped_fuel(key), CombustionAir(water_share=water_share)
    burnt = complete_combustion(fuel, air)
    oxygen_in = fuel.atoms.oxygen + 2.0 * burnt.o2 + burnt.water_air
    oxygen_out = 2.0 * (burnt.co2 + burnt.so2) + burnt.water
    assert oxygen_in == pytest.approx(oxygen_out)
    assert burnt.co2 == fuel.atoms.carbon
    assert 2.0 * burnt.water_fuel == pytest.approx(fuel.atoms.hydrogen)
    assert burnt.n2 == pytest.approx(fuel.atoms.nitrogen / 2.0 + burnt.air * (1.0 - 0.20946))


@given(KEYS, st.floats(0.001, 0.1))
def test_humid_air_changes_the_wet_flue_and_not_the_dry(key, water_share):
    fuel = shipped_fuel(key)
    dry, humid = complete_combustion(fuel), complete_combustion(fuel, CombustionAir(water_share=water_share))
    assert humid.flue_dry == dry.flue_dry
    assert humid.co2_max_pct() == dry.co2_max_pct()
    assert humid.water_wet_pct > dry.water_wet_pct


def test_more_oxygen_in_the_air_means_more_carbon_dioxide():
    low, high = (complete_combustion(shipped_fuel("propane"), CombustionAir(o2_pct=one)) for one in (20.9, 21.0))
    assert low.co2_max_pct() < high.co2_max_pct()


def test_oxygen_in_the_fuel_saves_air():
    rich, plain = (Fuel("g", "gas", "gas", {"CH4": 90.0, other: 10.0}, "test") for other in ("O2", "N2"))
    assert complete_combustion(rich).air < complete_combustion(plain).air


def test_hydrogen_gives_no_carbon_dioxide():
    burnt = complete_combustion(Fuel("h", "hydrogen", "gas", {"H2": 100.0}, "test"))
    assert burnt.co2_max_pct() == 0.0
    assert burnt.water_wet_pct > 30.0


def test_sulfur_counts_or_does_not():
    coal = complete_combustion(shipped_fuel("bituminous-coal"))
    assert coal.co2_max_pct() > coal.co2_max_pct(so2_counts=False)
    gas = complete_combustion(shipped_fuel("methane"))
    assert gas.co2_max_pct() == gas.co2_max_pct(so2_counts=False)
