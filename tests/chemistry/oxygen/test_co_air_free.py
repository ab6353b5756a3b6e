"""CO air-free."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.errors import FlueGasError, NearAmbientError
from flueproof.chemistry.oxygen.co_air_free import co_air_free, co_undiluted_german

CO, O2 = st.floats(0.0, 5000.0), st.floats(0.0, 14.0)


@given(CO, O2, st.floats(0.0, 0.3))
def test_a_leak_cancels(co, o2, fraction):
    """Room air thins CO and (20.9 - O2) alike; the unit calls that air 20.9."""
    leaked_o2 = (1.0 - fraction) * o2 + fraction * 20.9
    if leaked_o2 >= 18.0:
        return
    leaked = co_air_free((1.0 - fraction) * co, leaked_o2).value
    assert leaked == pytest.approx(co_air_free(co, o2).value, rel=1e-9, abs=1e-9)


@given(st.floats(10.0, 5000.0), O2, st.floats(0.1, 1.0))
def test_an_error_of_the_oxygen_channel_does_not(co, o2, error):
    assert co_air_free(co, o2 + error).value > co_air_free(co, o2).value


@given(O2, st.floats(0.01, 1.0))
def test_it_grows_with_oxygen(o2, more):
    assert co_air_free(100.0, o2 + more).value > co_air_free(100.0, o2).value


def test_the_slope_is_one_over_what_is_left_of_the_oxygen():
    """Section 9 of the sheet: 6.3 % per % O2 at 5 %, 7.8 % at 8 %."""
    for o2, per_cent in ((5.0, 6.3), (8.0, 7.8)):
        low, high = co_air_free(100.0, [o2 - 0.01, o2 + 0.01]).value
        assert (high / low - 1.0) / 0.02 * 100.0 == pytest.approx(per_cent, abs=0.06)


def test_without_air_nothing_changes():
    assert co_air_free(80.0, 0.0).value == 80.0


def test_it_says_its_basis():
    basis = co_air_free(80.0, 5.0).basis
    assert (basis.oxygen.pct, basis.moisture, basis.reference_o2_pct) == (20.9, "dry", 0.0)
    assert "air-free" in basis.in_words()
    assert co_undiluted_german(80.0, 5.0).basis.oxygen.pct == 21.0


def test_the_german_form_has_its_own_constant():
    assert co_undiluted_german(100.0, 5.0).value == pytest.approx(131.25)


def test_doubtful_and_refused_are_marked_in_an_array():
    found = co_air_free([100.0, 100.0, 100.0, float("nan")], [5.0, 16.0, 19.0, 5.0], outside="nan")
    assert found.doubtful.tolist() == [False, True, False, False]
    assert found.refused.tolist() == [False, False, True, True]
    assert np.isnan(found.value).tolist() == found.refused.tolist()


def test_near_ambient_is_refused():
    with pytest.raises(NearAmbientError):
        co_air_free(30.0, 19.5)


def test_a_missing_reading_is_refused():
    with pytest.raises(FlueGasError, match="CO"):
        co_air_free(float("nan"), 5.0)


def test_a_cell_a_little_below_zero_stays_below_zero():
    assert co_air_free(-2.0, 5.0).value == pytest.approx(-2.629, abs=1e-3)
