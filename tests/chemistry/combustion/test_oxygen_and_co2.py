"""O2, CO2 and lambda from one another."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.combustion.air import CombustionAir
from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.combustion.oxygen_and_co2 import (
    co2_from_lambda,
    co2_from_o2,
    lambda_from_co2,
    lambda_from_o2,
    o2_from_co2,
    o2_from_lambda,
)
from flueproof.chemistry.errors import FlueGasError, NearAmbientError
from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.fuels.reading import shipped_fuel, shipped_fuels

KEYS = st.sampled_from(sorted(shipped_fuels()))
O2 = st.floats(0.0, 20.0)
AIRS = st.sampled_from([20.9, 20.946, 21.0])


@given(KEYS, O2, AIRS, st.booleans())
def test_there_and_back_by_every_road(key, o2, air_pct, so2_counts):
    burnt = complete_combustion(shipped_fuel(key), CombustionAir(o2_pct=air_pct))
    co2 = co2_from_o2(burnt, o2, so2_counts=so2_counts)
    lambda_ = lambda_from_o2(burnt, o2)
    assert o2_from_co2(burnt, co2, so2_counts=so2_counts) == pytest.approx(o2, abs=1e-9)
    assert o2_from_lambda(burnt, lambda_) == pytest.approx(o2, abs=1e-9)
    assert lambda_from_co2(burnt, co2, so2_counts=so2_counts) == pytest.approx(lambda_)
    assert co2_from_lambda(burnt, lambda_, so2_counts=so2_counts) == pytest.approx(co2)


@given(KEYS)
def test_more_oxygen_means_more_air_and_less_carbon_dioxide(key):
    burnt, o2 = complete_combustion(shipped_fuel(key)), np.linspace(0.0, 20.0, 200)
    assert np.all(np.diff(lambda_from_o2(burnt, o2)) > 0.0)
    assert np.all(np.diff(co2_from_o2(burnt, o2)) < 0.0)


@pytest.mark.parametrize("shape", [(), (4,), (2, 3), (0,)])
def test_arrays_keep_their_shape(shape):
    burnt = complete_combustion(shipped_fuel("methane"))
    o2 = np.full(shape, 5.0)
    assert np.shape(lambda_from_o2(burnt, o2)) == shape
    assert np.shape(o2_from_co2(burnt, co2_from_o2(burnt, o2))) == shape


def test_the_bounds_lie_where_they_are_said_to():
    """2 % of flue gas in the sample, and 3 % more CO2 than the fuel can give."""
    burnt = complete_combustion(shipped_fuel("methane"))
    largest = burnt.co2_max_pct()
    assert lambda_from_o2(burnt, [-0.5, 0.98 * 20.946 - 0.01]).shape == (2,)
    assert o2_from_co2(burnt, [0.021 * largest, 1.029 * largest]).shape == (2,)
    for low, outside in ((o2_from_co2, 0.019 * largest), (lambda_from_o2, 0.98 * 20.946 + 0.01)):
        with pytest.raises(NearAmbientError):
            low(burnt, outside)
    with pytest.raises(FlueGasError, match="fuel set"):
        lambda_from_co2(burnt, 1.031 * largest)


def test_a_cell_a_little_below_its_zero_is_no_error():
    assert lambda_from_o2(complete_combustion(shipped_fuel("methane")), -0.3) < 1.0


@pytest.mark.parametrize("o2", [-0.6, float("nan"), [3.0, float("nan")]])
def test_what_is_no_oxygen_of_a_flue_is_refused(o2):
    with pytest.raises(FlueGasError, match=r"allowed is -0\.5 to"):
        lambda_from_o2(complete_combustion(shipped_fuel("methane")), o2)


@pytest.mark.parametrize("o2", [20.6, 20.9, 21.5, float("inf")])
def test_nearly_air_is_refused(o2):
    with pytest.raises(NearAmbientError, match="nearly air"):
        co2_from_o2(complete_combustion(shipped_fuel("methane")), o2)


def test_the_place_of_the_bad_value_is_told():
    with pytest.raises(NearAmbientError, match="value 3 of 4"):
        lambda_from_o2(complete_combustion(shipped_fuel("methane")), [3.0, 4.0, 20.8, 20.9])


def test_words_are_no_numbers():
    with pytest.raises(FlueGasError, match="no number"):
        lambda_from_o2(complete_combustion(shipped_fuel("methane")), "five")


@pytest.mark.parametrize("co2", [13.0, 20.0])
def test_more_carbon_dioxide_than_the_fuel_can_give_points_to_the_fuel_set(co2):
    with pytest.raises(FlueGasError, match="look at the fuel set"):
        o2_from_co2(complete_combustion(shipped_fuel("methane")), co2)


@pytest.mark.parametrize("co2", [0.0, 0.2, -1.0])
def test_hardly_any_carbon_dioxide_is_refused(co2):
    with pytest.raises(NearAmbientError, match="CO2"):
        lambda_from_co2(complete_combustion(shipped_fuel("methane")), co2)


def test_carbon_dioxide_of_hydrogen_says_nothing():
    with pytest.raises(FlueGasError):
        o2_from_co2(complete_combustion(Fuel("h", "hydrogen", "gas", {"H2": 100.0}, "test")), 0.1)


@pytest.mark.parametrize("lambda_", [0.0, 0.9, 0.999])
def test_too_little_air_is_refused(lambda_):
    with pytest.raises(FlueGasError, match="too little air"):
        o2_from_lambda(complete_combustion(shipped_fuel("methane")), lambda_)


def test_a_lambda_beyond_sense_is_refused():
    with pytest.raises(FlueGasError, match="1 to 50"):
        co2_from_lambda(complete_combustion(shipped_fuel("methane")), 51.0)
