import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.pictures.axis import Axis, tick_step, tick_text, ticks


def test_a_value_lies_where_a_ruler_would_put_it():
    axis = Axis(-10.0, 10.0, 100.0, 200.0)
    assert axis.place(0.0) == 150.0
    assert axis.place(5.0) == 175.0
    assert axis.held(99.0) == 200.0
    assert axis.held(-99.0) == 100.0
    assert axis.holds(10.0)
    assert not axis.holds(10.1)


@given(st.floats(1e-6, 1e6), st.integers(2, 10))
def test_steps_are_one_two_or_five_times_a_power_of_ten_and_give_about_the_wanted_number(span, about):
    step = tick_step(span, about)
    mantissa = float(f"{step:e}".split("e")[0])
    assert mantissa in {1.0, 2.0, 5.0}
    assert about / 2.6 <= span / step <= about * (1 + 1e-6)


@given(st.floats(-1e4, 1e4), st.floats(1e-3, 1e4))
def test_ticks_lie_on_the_axis_and_are_told_apart(low, span):
    marked = ticks(low, low + span)
    assert all(low - 1e-6 * span <= value <= low + span * (1 + 1e-6) for value, _ in marked)
    assert len({shown for _, shown in marked}) == len(marked)


@pytest.mark.parametrize("span", [0.0, -1.0, float("nan"), float("inf")])
def test_an_axis_without_extent_is_refused(span):
    with pytest.raises(ValueError, match="span"):
        tick_step(span)


def test_ticks_carry_a_true_minus_and_no_minus_zero():
    assert tick_text(-5.0, 0) == "\u22125"
    assert tick_text(-0.0, 1) == "0.0"
    assert tick_text(-0.04, 1) == "0.0"
