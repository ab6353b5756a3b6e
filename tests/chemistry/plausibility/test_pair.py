"""What a pair of O2 and CO2 points to."""

import numpy as np
import pytest

from flueproof.chemistry.fuels.reading import shipped_fuel
from flueproof.chemistry.plausibility.pair import POINTS_TO, groups_that_fit, look_at_pair


def test_a_right_pair_fits():
    look = look_at_pair(shipped_fuel("natural-gas-us"), 5.0, 9.08)
    assert look.sides() == ("fits",)
    assert look.from_own_pct == pytest.approx(-0.3, abs=0.2)


def test_oxygen_too_high_for_the_carbon_dioxide_is_low():
    assert look_at_pair(shipped_fuel("natural-gas-us"), 8.0, 9.08).sides() == ("low",)
    assert "O2 reads too high" in POINTS_TO["low"][0]


def test_carbon_dioxide_too_low_is_high():
    assert look_at_pair(shipped_fuel("natural-gas-us"), 5.0, 7.0).sides() == ("high",)
    assert "CO2 reads too low" in POINTS_TO["high"][0]


def test_the_wrong_fuel_set_shows():
    """Oil burned, gas set: the pair of oil is too rich in carbon dioxide."""
    assert look_at_pair(shipped_fuel("natural-gas-us"), 5.0, 11.9).sides() == ("low",)
    assert "distillate oil" in groups_that_fit(float(look_at_pair(shipped_fuel("heating-oil"), 5.0, 11.9).fo))


def test_an_error_within_the_width_of_a_group_stays_unseen_by_the_range_but_not_by_the_fuel():
    look = look_at_pair(shipped_fuel("natural-gas-us"), 5.5, 9.08)
    assert look.sides() == ("fits",)
    assert look.from_own_pct == pytest.approx(100.0 * ((20.9 - 5.5) / 9.08 / look.own_fo - 1.0))
    assert look.from_own_pct < -3.0


def test_the_bounds_of_a_range_belong_to_it():
    look = look_at_pair(shipped_fuel("natural-gas-us"), 20.9 - 1.6 * 5.0, [5.0, 5.001])
    assert look.sides() == ("fits", "low")


def test_arrays_keep_their_shape():
    look = look_at_pair(shipped_fuel("propane"), np.full((2, 2), 5.0), [[10.44, 14.0], [8.0, 10.44]])
    assert look.side.tolist() == [[0, -1], [1, 0]]
    assert look.sides() == ("fits", "low", "high", "fits")


def test_no_group_fits_nonsense():
    assert groups_that_fit(0.5) == ()


@pytest.mark.parametrize("side", ["fits", "low", "high"])
def test_every_side_says_where_to_look(side):
    assert POINTS_TO[side]
