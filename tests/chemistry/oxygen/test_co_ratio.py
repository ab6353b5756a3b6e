"""CO over CO2."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.errors import FlueGasError, NearAmbientError
from flueproof.chemistry.fuels.reading import shipped_fuel
from flueproof.chemistry.oxygen.co_air_free import co_air_free
from flueproof.chemistry.oxygen.co_ratio import co_co2_ratio


def test_three_hundred_and_fifty_ppm_on_nine_per_cent():
    assert co_co2_ratio(360.0, 9.0).value == pytest.approx(0.004)


@given(st.floats(0.0, 5000.0), st.floats(2.0, 15.0), st.floats(0.0, 0.5))
def test_a_leak_cancels(co, co2, fraction):
    thinned = co_co2_ratio(co * (1.0 - fraction), co2 * (1.0 - fraction))
    assert thinned.value == pytest.approx(co_co2_ratio(co, co2).value)


def test_it_is_air_free_co_over_the_largest_co2_of_the_fuel():
    largest = complete_combustion(shipped_fuel("natural-gas-us")).co2_max_pct()
    co2 = largest * (20.9 - 6.0) / 20.9
    assert co_co2_ratio(100.0, co2).value == pytest.approx(co_air_free(100.0, 6.0).value / 1e4 / largest)


def test_half_a_per_cent_of_carbon_dioxide_is_the_least():
    assert co_co2_ratio(10.0, 0.5).value == pytest.approx(0.002)


@pytest.mark.parametrize("co2", [0.499, 0.0, -1.0])
def test_hardly_any_carbon_dioxide_is_refused_or_marked(co2):
    with pytest.raises(NearAmbientError, match="nearly all air"):
        co_co2_ratio(100.0, co2)
    assert co_co2_ratio([100.0, 100.0], [9.0, co2], outside="nan").refused.tolist() == [False, True]


def test_a_missing_reading_is_refused_or_marked():
    with pytest.raises(FlueGasError, match="CO"):
        co_co2_ratio(float("nan"), 9.0)
    assert co_co2_ratio([float("nan")], [9.0], outside="nan").refused.tolist() == [True]
