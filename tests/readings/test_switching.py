"""Finding the move of a trace."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.readings.switching import crossing_s, find_move, noise_of, smoothed, step_of, strays_of


def test_dead_time_and_speed_are_guessed_from_the_rise(response):
    times = np.arange(0.0, 121.0)
    move = find_move(times, response.shown(times), gas_on_s=0.0)
    assert move.moved_s == pytest.approx(5.0, abs=0.6)
    assert move.fast_s == pytest.approx(12.5, abs=1.5)
    assert move.size == pytest.approx(440, abs=8)
    assert move.end == 121


def test_a_fall_is_a_move_downwards(make_response):
    times = np.arange(0.0, 121.0)
    move = find_move(times, make_response(top=0.1, start=20.9, step=0.1, noise=0.02).shown(times), gas_on_s=0.0)
    assert move.size == pytest.approx(-20.5, abs=0.4)
    assert move.start == pytest.approx(20.9, abs=0.1)


def test_no_move_is_found_in_noise():
    values = np.round(np.random.default_rng(1).normal(3.0, 0.4, 120))
    assert find_move(np.arange(120.0), values, gas_on_s=0.0) is None


def test_the_move_ends_where_the_reading_goes_back():
    values = np.concatenate((np.zeros(5), np.full(50, 100.0), np.zeros(50)))
    assert find_move(np.arange(105.0), values, gas_on_s=0.0).end <= 56


@pytest.mark.parametrize(("values", "step"), [([0, 100, 450], 50.0), ([1, 2, 7], 1.0), ([20.9, 0.1, 0.3], 0.1)])
def test_the_display_step_is_the_coarsest_that_fits(values, step):
    expected = {50.0: 10.0}.get(step, step)
    assert step_of(np.array(values, dtype=float)) in {step, expected}


def test_values_on_no_grid_have_no_step():
    assert step_of(np.array([0.123456789, math.pi])) == 0.0


def test_noise_around_a_smooth_course_is_found():
    times = np.arange(0.0, 200.0)
    values = 400 + 0.01 * times + np.random.default_rng(2).normal(0, 2.0, 200)
    assert noise_of(times, values) == pytest.approx(2.0, rel=0.2)
    assert math.isnan(noise_of(times[:10], values[:10]))


@given(st.floats(0.5, 99.5))
def test_a_crossing_lies_between_its_looks(level):
    times, values = np.arange(0.0, 11.0), np.arange(0.0, 110.0, 10.0)
    assert crossing_s(times, values, level, rising=True) == pytest.approx(level / 10)


def test_a_level_never_passed_is_inf():
    assert math.isinf(crossing_s(np.arange(3.0), np.array([0.0, 1.0, 2.0]), 5.0, rising=True))


def test_a_stray_look_is_smoothed_away():
    assert smoothed(np.array([0.0, 0.0, 9.0, 0.0, 0.0])).tolist() == [0.0] * 5


@pytest.mark.parametrize(("value", "step"), [(100.0, 1.0), (0.0, 1.0), (20.5, 0.1), (450.0, 1.0)])
def test_a_constant_trace_has_the_step_of_its_decimals(value, step):
    assert step_of(np.full(30, value)) == step


def test_looks_far_off_all_around_are_strays_and_a_rise_is_none(response):
    values = response.shown(np.arange(0.0, 121.0))
    assert not strays_of(values, 1.0).any()
    values[[40, 120]] = 1e4, 1e6
    assert np.flatnonzero(strays_of(values, 1.0)).tolist() == [40, 120]
