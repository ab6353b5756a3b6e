"""Whatever was typed: a settled value or a typed error, never a warning or another exception."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueproof.readings.errors import ReadingsError, ShownError, TimesError
from flueproof.readings.settling import settle
from flueproof.readings.shown import read_shown

WILD = st.one_of(
    st.sampled_from([0.0, 100.0, 1e4, 0.1, -5.0, 20.9, 449.0, 450.0, 1e6, 1e9, -1e9, 1e300, -1e308, 1e-300]),
    st.floats(-1e10, 1e10),
)
ODD_S = st.one_of(st.sampled_from([-50.0, 0.0, 7.0, 135.0, 138.0, 144.0, 3600.0, 1e9]), st.floats(0.0, 300.0))


@settings(max_examples=60, deadline=None)
@given(st.data(), st.sampled_from([None, 0.0, 60.0]), st.sampled_from([None, 0.0, 1e9]))
def test_few_wild_looks_give_a_value_or_a_typed_error(data, gas_on_s, start):
    times = sorted(data.draw(st.lists(ODD_S, min_size=1, max_size=13)))
    shown = data.draw(st.lists(WILD, min_size=len(times), max_size=len(times)))
    step = data.draw(st.sampled_from([None, 1.0, 0.1, 1e6]))
    try:
        settled = settle(read_shown(shown, times, step), gas_on_s=gas_on_s, start_value=start, hold_s=120.0)
    except ReadingsError:
        return
    assert settled.bound is not None or (math.isfinite(settled.value) and settled.u >= 0.0)


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 120), WILD)
def test_one_wild_look_in_a_trace_moves_nothing(place, wild):
    times = np.arange(0.0, 121.0)
    shown = np.round(450.0 * (1.0 - np.exp(-np.maximum(times - 5.0, 0.0) / 12.0)))
    shown[place] = wild
    try:
        settled = settle(read_shown(shown, times, 1.0), gas_on_s=0.0)
    except ReadingsError:
        return
    assert math.isfinite(settled.value)
    if 10 < place < 117 and abs(wild) > 1000.0:
        assert abs(settled.value - 450.0) < 3.0 * settled.u < 60.0


@pytest.mark.parametrize(
    ("shown", "times"),
    [
        ([0, 100, 1e4, 0.1], [7, 135, 138, 144]),
        ([1e9, 450], [0, 120]),
        ([0, 440, 1e9, 490, 495], [0, 30, 60, 90, 120]),
        ([0, 440, 480, 490, 1e9], [0, 30, 60, 90, 120]),
        ([8091180.1, 0.087], [0, 120]),
    ],
)
@pytest.mark.parametrize("gas_on_s", [None, 0.0])
def test_crashes_of_before_are_values(shown, times, gas_on_s):
    settled = settle(read_shown(shown, times), gas_on_s=gas_on_s)
    assert math.isfinite(settled.value)
    assert not settled.settled


def test_what_no_display_shows_is_refused_with_its_place():
    with pytest.raises(ShownError, match=r"look 2 is 1e\+300"):
        settle(read_shown([0, 1e300, 5], [0, 30, 60], 1.0))
    with pytest.raises(ShownError, match="start value"):
        settle(read_shown([0, 4, 5], [0, 30, 60], 1.0), start_value=1e12)
    with pytest.raises(ShownError, match="display step"):
        settle(read_shown([0, 4, 5], [0, 30, 60], 1e-12))
    with pytest.raises(TimesError, match="beyond"):
        settle(read_shown([0, 4, 5], [0, 30, 1e15], 1.0))
