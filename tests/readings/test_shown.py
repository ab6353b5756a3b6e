"""Displays as shown: numbers, texts and clamped values."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.readings.errors import NoReadingsError, ShownError, TimesError
from flueproof.readings.shown import read_shown, text_as_shown


@pytest.mark.parametrize("text", ["OVER", "OFL", "over range", ">>>>", "O.L.", "> 2000", ">=4000"])
def test_over_range_texts_are_bounds_above(text):
    value, bound = text_as_shown(text)
    assert np.isnan(value)
    assert bound == "above"


@pytest.mark.parametrize("text", ["----", "---", "--.-", "", "n/a", "Error"])
def test_dashes_and_empty_cells_are_no_reading(text):
    assert text_as_shown(text)[1] == "absent"


@pytest.mark.parametrize(("text", "bound"), [("UFL", "below"), ("< 5", "below"), ("LO", "below")])
def test_under_range_texts_are_bounds_below(text, bound):
    assert text_as_shown(text)[1] == bound


@pytest.mark.parametrize(("text", "value"), [("12,5", 12.5), ("12.5", 12.5), ("-0.1", -0.1), ("1e2", 100.0)])
def test_texts_that_are_numbers_are_numbers(text, value):
    assert text_as_shown(text) == (value, None)


@pytest.mark.parametrize("text", ["nan", "inf", "12 ppm", "abc", "1,2,3", "0x10"])
def test_other_texts_are_refused_with_what_to_write(text):
    with pytest.raises(ShownError, match="OVER for above"):
        text_as_shown(text)


@pytest.mark.parametrize("shown", [True, float("nan"), float("inf"), [1], {"value": 1}])
def test_values_that_no_display_shows_are_refused_by_their_place(shown):
    with pytest.raises(ShownError, match="look 2"):
        read_shown([1.0, shown])


def test_a_zero_on_a_display_that_cannot_go_below_is_a_bound():
    looks = read_shown([0, 3, 0], [0, 30, 60], 1.0, clamp_low=0.0)
    assert looks.bounds == ("below", None, "below")
    assert looks.values.tolist() == [0.0, 3.0, 0.0]


def test_oxygen_that_snaps_is_a_bound_only_at_the_value_it_snaps_to():
    looks = read_shown([20.9, 20.5], [0, 30], 0.1, snap_to=20.9, snap_width=0.2)
    assert looks.bounds == ("snapped", None)
    assert read_shown([20.9], [0.0], 0.1, snap_to=20.9).bounds == (None,)


def test_a_sample_logged_twice_at_one_time_counts_once():
    looks = read_shown([1, 2, 2, 3], [0, 1, 1, 2])
    assert looks.times_s.tolist() == [0, 1, 2]
    assert looks.values.tolist() == [1, 2, 3]


def test_times_that_run_backwards_are_refused():
    with pytest.raises(TimesError, match="look 3 is 1 s, before look 2 at 2 s"):
        read_shown([1, 2, 3], [0, 2, 1])


@pytest.mark.parametrize("times", [[0, 1], [0, 1, float("nan")], [[0, 1, 2]]])
def test_times_must_be_one_finite_number_a_look(times):
    with pytest.raises(TimesError, match="time"):
        read_shown([1, 2, 3], times)


def test_nothing_shown_is_refused():
    with pytest.raises(NoReadingsError, match="at least one look"):
        read_shown([])


def test_what_was_shown_comes_back_as_shown():
    looks = read_shown([5, "OVER", None], [0, 1, 2])
    assert [looks.shown_at(place) for place in range(3)] == [5.0, "OVER", ""]


def test_looks_until_a_time_keep_bounds_and_texts():
    looks = read_shown([5, "OVER", 7], [0, 1, 2]).until(1.0)
    assert len(looks) == 2
    assert looks.texts == (None, "OVER")
    assert looks.bounds == (None, "above")


@given(st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=20))
def test_numbers_come_back_unchanged(values):
    looks = read_shown(values)
    assert looks.values.tolist() == [value + 0.0 for value in values]
    assert set(looks.bounds) == {None}
