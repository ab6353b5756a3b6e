"""A display that cannot go below a floor: moments of the larger of a normal quantity and the floor, by simulation."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.readings.floor import floored
from flueproof.readings.settled import SettledValue


def settled(value, u, **more):
    low, high = value - 1.96 * u, value + 1.96 * u
    return SettledValue(value, u, low=low, high=high, u_settling=0.8 * u, u_step=0.6 * u, **more)


@pytest.mark.parametrize("value", [-2.0, -0.5, 0.0, 0.3, 1.0, 3.0])
def test_value_and_u_are_those_of_the_larger_of_it_and_the_floor(value):
    drawn = np.maximum(np.random.default_rng(5).normal(value, 1.0, 400_000), 0.0)
    found = floored(settled(value, 1.0), 0.0)
    assert found.value == pytest.approx(drawn.mean(), abs=0.006)
    assert found.u == pytest.approx(drawn.std(), abs=0.006)


@given(value=st.floats(-3.0, 10.0), u=st.floats(1e-3, 2.0), floor=st.floats(-1.0, 1.0))
def test_nothing_is_below_the_floor_and_no_uncertainty_grows(value, u, floor):
    found = floored(settled(value, u), floor)
    assert found.value >= floor - 1e-9
    assert found.low >= floor
    assert found.u <= u * (1 + 1e-9)
    assert found.u == pytest.approx(math.hypot(found.u_settling, found.u_step), rel=1e-6, abs=1e-12)


@given(shift=st.floats(-50.0, 50.0), value=st.floats(-2.0, 4.0))
def test_floor_and_value_move_together(shift, value):
    here, there = floored(settled(value, 1.0), 0.0), floored(settled(value + shift, 1.0), shift)
    assert there.value - shift == pytest.approx(here.value, abs=1e-9)
    assert there.u == pytest.approx(here.u, abs=1e-9)


def test_a_reading_far_above_the_floor_is_left_as_it_is():
    far = settled(486.0, 2.0)
    assert floored(far, 0.0) is far


@pytest.mark.parametrize(
    ("one", "floor"),
    [(settled(0.1, 1.0), None), (settled(0.0, math.inf, bound="below"), 0.0), (settled(0.1, 0.0), 0.0)],
)
def test_without_a_floor_a_number_or_an_uncertainty_nothing_changes(one, floor):
    assert floored(one, floor) is one
