"""What the prior alone says."""

import numpy as np
import pytest

from flueproof.readings.response.early import arrived_shares, early_settled
from flueproof.readings.response.prior import GENERIC


def test_shares_grow_with_time_and_end_at_one():
    medians = [float(np.median(arrived_shares(GENERIC, since))) for since in (10.0, 30.0, 120.0, 2000.0)]
    assert medians == sorted(medians)
    assert medians[-1] == pytest.approx(1.0, abs=0.001)


def test_the_same_prior_gives_the_same_shares():
    assert np.array_equal(arrived_shares(GENERIC, 20.0), arrived_shares(GENERIC, 20.0))


def test_a_fall_goes_further_down():
    value, u, low, high = early_settled(5.0, 20.9, arrived_shares(GENERIC, 30.0), 0.95)
    assert low < value < 5.0
    assert high <= 5.0
    assert u > 0
