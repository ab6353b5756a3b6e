"""Reorder points of the textbook: Silver, Pyke and Peterson, 3rd ed., chapter 7, formulas from memory."""

import pytest
from scipy import stats

from flueproof.parts.demand.textbook import economic_quantity, reorder_point_normal, reorder_point_poisson
from flueproof.parts.errors import UnusableNumberError


def test_the_normal_point_is_mean_and_z_times_the_spread():
    """By hand: 2 a day, s = 1, 16 days: 32 + 1.6449 x sqrt(16) = 38.58."""
    assert reorder_point_normal(2.0, 1.0, 16.0, 0.0, 0.95) == pytest.approx(38.58, abs=0.005)


def test_an_unsure_lead_time_adds_its_own_spread():
    """By hand: sqrt(9 x 4^2 + 10^2 x 2^2) = 23.32; 90 + 1.2816 x 23.32 = 119.9."""
    assert reorder_point_normal(10.0, 4.0, 9.0, 2.0, 0.9) == pytest.approx(119.9, abs=0.05)


@pytest.mark.parametrize("mean", [0.0, 0.3, 2.0, 17.5, 300.0])
@pytest.mark.parametrize("share", [0.5, 0.9, 0.99])
def test_the_poisson_point_is_the_quantile_of_scipy(mean, share):
    assert reorder_point_poisson(mean, share) == stats.poisson(mean).ppf(share)


def test_the_economic_quantity_by_hand():
    """sqrt(2 x 1200 x 50 / 6) = 141.4."""
    assert economic_quantity(1200, 50, 6) == pytest.approx(141.4, abs=0.05)


@pytest.mark.parametrize(
    "asked",
    [
        lambda: reorder_point_normal(-1, 1, 1, 0, 0.9),
        lambda: reorder_point_normal(1, 1, 1, 0, 1.0),
        lambda: reorder_point_poisson(-1, 0.9),
        lambda: reorder_point_poisson(701, 0.9),
        lambda: economic_quantity(1, 1, 0),
    ],
)
def test_what_is_no_demand_is_refused(asked):
    with pytest.raises(UnusableNumberError):
        asked()
