"""Fo of a pair and of a fuel."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.combustion.air import CombustionAir
from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.combustion.oxygen_and_co2 import co2_from_o2
from flueproof.chemistry.errors import FlueGasError, NearAmbientError
from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.fuels.reading import shipped_fuel, shipped_fuels
from flueproof.chemistry.plausibility.fo import fo_from_pair, fo_of_fuel, fo_range, published_fo_ranges

KEYS = st.sampled_from(sorted(shipped_fuels()))


@given(KEYS, st.floats(0.0, 15.0))
def test_air_in_both_does_not_change_it(key, o2):
    """The pair of one flue gas has the fuel's Fo whatever the excess air (air as 20.9 %)."""
    fuel = shipped_fuel(key)
    burnt = complete_combustion(fuel, CombustionAir(o2_pct=20.9))
    assert fo_from_pair(o2, co2_from_o2(burnt, o2)) == pytest.approx(fo_of_fuel(fuel))


@given(st.floats(0.0, 20_000.0))
def test_carbon_monoxide_counts_as_if_it_had_burned(co_ppm):
    """A dry gas of 5 % O2 and 9 % CO2, of which co_ppm is left as CO with half as much O2 more."""
    part = co_ppm / 1e4
    assert fo_from_pair(5.0 + 0.5 * part, 9.0 - part, co_ppm) == pytest.approx(fo_from_pair(5.0, 9.0))


@pytest.mark.parametrize("key", shipped_fuels())
def test_every_shipped_fuel_lies_in_its_own_range(key):
    fuel = shipped_fuels()[key]
    bounds = fo_range(fuel)
    assert bounds.low < fo_of_fuel(fuel) < bounds.high
    assert "Table 3B-1" in bounds.source


def test_a_fuel_without_a_published_range_gets_one_from_its_composition():
    own = Fuel("o", "sewage gas (invented)", "gas", {"CH4": 65.0, "CO2": 35.0}, "test")
    bounds = fo_range(own)
    assert bounds.low / fo_of_fuel(own) == pytest.approx(0.88)
    assert bounds.high / fo_of_fuel(own) == pytest.approx(1.12)
    assert "12 %" in bounds.source


def test_ranges_are_ordered():
    assert len(published_fo_ranges()) == 9
    assert all(0.9 < one.fo.low < one.fo.high < 2.0 for one in published_fo_ranges())


@pytest.mark.parametrize(("o2", "co2"), [(20.0, 0.3), (20.85, 5.0)])
def test_hardly_any_flue_gas_is_refused(o2, co2):
    with pytest.raises(NearAmbientError):
        fo_from_pair(o2, co2)


@pytest.mark.parametrize(("o2", "co2", "co"), [(-2.0, 9.0, 0.0), (5.0, 40.0, 0.0), (5.0, 9.0, 3e5)])
def test_values_that_cannot_be_are_refused(o2, co2, co):
    with pytest.raises(FlueGasError):
        fo_from_pair(o2, co2, co)
