"""The grid of slow time constants."""

import numpy as np
import pytest

from flueproof.readings.response.prior import GENERIC
from flueproof.readings.response.slow_grid import slow_grid


def test_the_grid_recovers_the_moments_of_the_prior():
    grid = slow_grid(GENERIC)
    weights = np.exp(grid.log_weight) / np.exp(grid.log_weight).sum()
    log_slow = np.log(grid.slow_s)
    assert weights @ log_slow == pytest.approx(GENERIC.mean[2])
    assert weights @ (log_slow - GENERIC.mean[2]) ** 2 == pytest.approx(GENERIC.covariance[2][2], rel=0.1)
    spread = np.linalg.inv(grid.precision)[0, 0] + weights @ (grid.mean[:, 0] - GENERIC.mean[0]) ** 2
    assert spread == pytest.approx(GENERIC.covariance[0][0], rel=0.1)


def test_an_unknown_switch_frees_the_dead_time():
    assert slow_grid(GENERIC, 40.0).precision[2, 2] < slow_grid(GENERIC).precision[2, 2] / 100


def test_one_node_can_be_taken():
    assert slow_grid(GENERIC).only(3).slow_s.shape == (1,)
