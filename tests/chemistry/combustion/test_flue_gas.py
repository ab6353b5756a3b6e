"""What is in the flue gas at a given O2."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.combustion.air import CombustionAir
from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.combustion.flue_gas import flue_gas_at, flue_gas_from_co2, flue_gas_from_o2
from flueproof.chemistry.errors import FlueGasError
from flueproof.chemistry.fuels.reading import shipped_fuel, shipped_fuels

KEYS = st.sampled_from(sorted(shipped_fuels()))


@given(KEYS, st.floats(0.0, 19.0), st.floats(0.0, 0.05))
def test_the_parts_add_up(key, o2, water_share):
    burnt = complete_combustion(shipped_fuel(key), CombustionAir(water_share=water_share))
    flue = flue_gas_from_o2(burnt, o2)
    assert flue.o2_dry_pct == pytest.approx(o2, abs=1e-9)
    assert flue.dry == pytest.approx(burnt.co2 + burnt.so2 + flue.o2 + flue.n2)
    assert flue.wet == pytest.approx(flue.dry + flue.water)
    assert flue.water_wet_share == pytest.approx(flue.water / flue.wet)
    assert flue.air == pytest.approx(burnt.air * (1.0 + flue.excess_air_pct / 100.0))
    assert flue.water - burnt.water_fuel == pytest.approx(burnt.air_taken.water_per_dry * flue.air)


@given(KEYS, st.floats(1.0, 8.0))
def test_from_lambda_and_from_carbon_dioxide_it_is_the_same_gas(key, lambda_):
    burnt = complete_combustion(shipped_fuel(key))
    flue = flue_gas_at(burnt, lambda_)
    again = flue_gas_from_co2(burnt, flue.co2_dry_pct())
    assert flue.lambda_ == pytest.approx(lambda_)
    assert again.lambda_ == pytest.approx(lambda_)


def test_at_zero_excess_air_it_is_the_complete_combustion():
    burnt = complete_combustion(shipped_fuel("heating-oil"))
    flue = flue_gas_at(burnt, 1.0)
    assert (flue.dry, flue.wet, flue.water) == pytest.approx((burnt.flue_dry, burnt.flue_wet, burnt.water))
    assert flue.co2_dry_pct() == pytest.approx(burnt.co2_max_pct())


def test_a_million_readings_go_through_at_once():
    o2 = np.linspace(0.0, 15.0, 1_000_000)
    flue = flue_gas_from_o2(complete_combustion(shipped_fuel("natural-gas-us")), o2)
    assert flue.water_wet_share.shape == (1_000_000,)
    assert np.all(np.diff(flue.water_wet_share) < 0.0)


def test_sulfur_of_oil_is_some_fifty_parts_in_a_million():
    """0.1 mass % sulfur: order of magnitude of common practice, no source."""
    assert 40.0 < flue_gas_from_o2(complete_combustion(shipped_fuel("heating-oil")), 3.0).so2_dry_ppm < 70.0


def test_too_little_air_is_refused():
    with pytest.raises(FlueGasError, match="too little air"):
        flue_gas_at(complete_combustion(shipped_fuel("methane")), [1.2, 0.95])
