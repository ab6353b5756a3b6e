"""Spreads: their density is the slope of their share, with and without a measurement's uncertainty."""

import pytest

from flueproof.faults.knowledge.spread import Spread


@pytest.mark.parametrize("spread", [Spread("normal", 1.0, 0.2), Spread("uniform", 0.4, 1.6)])
@pytest.mark.parametrize("u", [0.0, 0.05, 0.5])
@pytest.mark.parametrize("value", [0.5, 1.0, 1.3])
def test_the_density_is_the_slope_of_the_share_below(spread, u, value):
    step = 1e-5
    slope = (spread.below(value + step, u) - spread.below(value - step, u)) / (2 * step)
    assert spread.density(value, u) == pytest.approx(slope, rel=1e-5)


@pytest.mark.parametrize("spread", [Spread("normal", 1.0, 0.2), Spread("uniform", 0.4, 1.6)])
def test_nothing_lies_below_far_left_and_all_below_far_right(spread):
    assert (spread.below(-20.0, 0.1), spread.below(20.0, 0.1)) == pytest.approx((0.0, 1.0), abs=1e-12)


def test_middle_and_deviation_of_a_uniform():
    spread = Spread("uniform", 2.0, 8.0)
    assert (spread.middle, spread.deviation) == pytest.approx((5.0, 3**0.5))
