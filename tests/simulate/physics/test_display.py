import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.simulate.physics.display import Display, display_of, on_step

CO = Display("co", "ppm", "ppm", 1.0, high=2000.0, clamp_low=0.0)
O2 = Display("o2", "%", "%", 0.1, high=25.0, snap_to=20.9, snap_width=0.2)


def test_co_cannot_show_less_than_nothing():
    assert CO.show([-14.0, -0.2, 3.4]) == [0, 0, 3]


def test_above_the_range_and_without_a_sensor_the_display_shows_text():
    assert CO.show([2500.0, math.nan]) == ["OVER", "----"]


def test_o2_snaps_to_20_9_near_air_and_only_there():
    assert O2.show([20.75, 21.05, 20.6]) == [20.9, 20.9, 20.6]


def test_without_a_clamp_a_channel_goes_below_nothing():
    assert Display("draft", "Pa", "Pa", 1.0).show([-24.6]) == [-25]


@given(st.floats(-1e4, 1e4), st.sampled_from([0.001, 0.01, 0.1, 1.0, 10.0]))
def test_what_is_shown_lies_on_the_step_and_within_half_of_it(value, step):
    shown = on_step(value, step)
    assert abs(shown - value) <= step / 2.0 + 1e-9
    assert shown / step == pytest.approx(round(shown / step), abs=1e-6)
    assert str(shown) != "-0.0"


def test_whole_steps_are_whole_numbers_as_a_person_types_them():
    assert isinstance(on_step(486.3, 1.0), int)
    assert isinstance(on_step(0.31, 0.1), float)


@pytest.mark.parametrize(
    ("channel", "value", "unit", "step", "shown"),
    [("stack", 200.0, "degF", 1.0, 392), ("draft", -24.908891, "inH2O", 0.01, -0.1), ("air", 22.0, "degF", 0.1, 71.6)],
)
def test_us_units_show_degf_and_inches_of_water_with_a_decade_as_step(channel, value, unit, step, shown):
    display = display_of(shipped_profile("two-cell-residential").channels[channel], us_units=True)
    assert (display.unit, display.step) == (unit, pytest.approx(step))
    assert display.show([value]) == [shown]


def test_gas_is_shown_in_its_own_unit_in_the_us_too():
    channel = shipped_profile("two-cell-residential").channels["co"]
    assert display_of(channel, us_units=True) == display_of(channel)
