"""Ordinary and weighted straight lines."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueproof.metrology.errors import LineInputError
from flueproof.metrology.lines.straight import line_through_origin, ordinary_line, weighted_line

X = np.array([0.0, 100.0, 250.0, 500.0, 900.0])


@settings(deadline=None)
@given(intercept=st.floats(-1e3, 1e3), slope=st.floats(-10, 10))
def test_points_on_a_line_give_it_back(intercept, slope):
    y = intercept + slope * X
    fit = ordinary_line(X, y)
    assert fit.line.intercept == pytest.approx(intercept, abs=1e-9)
    assert fit.line.slope == pytest.approx(slope, abs=1e-11)
    assert fit.residual_sd < 1e-9
    weighted = weighted_line(X, y, 2.0)
    assert weighted.slope == pytest.approx(slope, abs=1e-11)
    assert weighted.u_slope == pytest.approx(2.0 / math.sqrt(float(np.sum((X - X.mean()) ** 2))))
    assert weighted.chi_square == pytest.approx(0.0, abs=1e-15)


def test_a_noiseless_line_still_carries_the_known_uncertainty():
    line = weighted_line(X, 2.0 * X, 0.5)
    assert line.u_slope > 0.0
    assert line.dof == math.inf


def test_equal_weights_give_the_ordinary_line():
    generator = np.random.default_rng(1)
    y = 3.0 + 0.98 * X + generator.normal(0.0, 4.0, X.size)
    ordinary, weighted = ordinary_line(X, y), weighted_line(X, y, 7.0)
    assert weighted.slope == pytest.approx(ordinary.line.slope, rel=1e-12)
    assert weighted.u_slope / 7.0 == pytest.approx(ordinary.line.u_slope / ordinary.residual_sd, rel=1e-12)
    assert weighted.correlation == pytest.approx(ordinary.line.correlation, rel=1e-12)
    assert weighted.chi_square == pytest.approx(ordinary.residual_sum / 49.0, rel=1e-12)


def test_a_point_hardly_known_hardly_counts():
    y = 0.5 * X
    y[2] += 100.0
    assert weighted_line(X, y, [1.0, 1.0, 1e6, 1.0, 1.0]).slope == pytest.approx(0.5, abs=1e-9)


def test_intervals_for_the_slope_cover_at_their_level():
    generator = np.random.default_rng(2)
    fits = [ordinary_line(X, 1.0 + 2.0 * X + generator.normal(0.0, 5.0, X.size)).line for _ in range(1000)]
    t_95_of_3 = 3.182446
    covered = np.mean([abs(line.slope - 2.0) <= t_95_of_3 * line.u_slope for line in fits])
    assert covered == pytest.approx(0.95, abs=0.021)


def test_a_perfect_fit_has_no_finite_f():
    assert ordinary_line([0.0, 1.0, 2.0], [0.0, 0.0, 0.0]).f_statistic == math.inf


def test_a_line_through_the_origin_needs_two_points_only():
    fit = line_through_origin([1.0, 2.0], [2.1, 3.9])
    assert fit.coefficients[0] == pytest.approx((1.0 * 2.1 + 2.0 * 3.9) / 5.0)


@pytest.mark.parametrize(
    ("x", "y", "u", "message"),
    [
        ([1.0, 2.0], [1.0, 2.0], 1.0, "three points or more"),
        ([1.0, 2.0, 3.0], [1.0, 2.0], 1.0, "three points or more"),
        ([1.0, 1.0, 1.0], [1.0, 2.0, 3.0], 1.0, r"all x are 1\.0"),
        ([1.0, 2.0, np.inf], [1.0, 2.0, 3.0], 1.0, "finite number"),
        ([1.0, 2.0, 3.0], [1.0, 2.0, 3.0], [1.0, 0.0, 1.0], "above zero"),
        ([1.0, 2.0, 3.0], [1.0, 2.0, 3.0], [1.0, 1.0], "above zero, one for all"),
    ],
)
def test_points_without_a_line_are_refused(x, y, u, message):
    with pytest.raises(LineInputError, match=message):
        weighted_line(x, y, u)
