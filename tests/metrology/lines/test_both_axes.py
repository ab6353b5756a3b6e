"""Lines through points uncertain in both axes, with full covariance."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize

from flueproof.metrology.errors import LineInputError
from flueproof.metrology.lines.both_axes import line_in_both_axes


def correlated_case(seed=0, points=6):
    generator = np.random.default_rng(seed)
    root = generator.normal(size=(2 * points, 2 * points)) * 0.08
    full = root @ root.T + 0.02 * np.eye(2 * points)
    x = np.arange(points) + generator.normal(size=points) * 0.1
    return x, 1.0 + 2.0 * x + generator.normal(size=points) * 0.4, full


def fit_full(x, y, full):
    n = len(x)
    return line_in_both_axes(x, y, full[:n, :n], full[n:, n:], full[:n, n:])


def test_the_minimum_is_that_of_a_plain_search_over_all_true_points():
    x, y, full = correlated_case()
    weight = np.linalg.inv(full)

    def misfit(parameters):
        left = np.concatenate([x - parameters[2:], y - parameters[0] - parameters[1] * parameters[2:]])
        return left @ weight @ left

    found, plain = fit_full(x, y, full), optimize.minimize(misfit, np.concatenate([[1.0, 2.0], x]), tol=1e-12)
    assert found.line.chi_square == pytest.approx(plain.fun, rel=1e-8)
    assert [found.line.intercept, found.line.slope] == pytest.approx(plain.x[:2], abs=1e-5)
    assert found.x_adjusted == pytest.approx(plain.x[2:], abs=1e-5)


@pytest.mark.parametrize("seed", [0, 1, 2])
def test_full_propagation_is_what_moving_each_input_gives(seed):
    x, y, full = correlated_case(seed)
    columns = []
    for place in range(2 * len(x)):
        ends = []
        for side in (1.0, -1.0):
            moved = np.concatenate([x, y])
            moved[place] += side * 1e-5
            line = fit_full(moved[: len(x)], moved[len(x) :], full).line
            ends.append(np.array([line.intercept, line.slope]))
        columns.append((ends[0] - ends[1]) / 2e-5)
    pull = np.array(columns).T
    assert fit_full(x, y, full).propagated == pytest.approx(pull @ full @ pull.T, rel=1e-6)


def test_intervals_cover_at_their_level():
    generator = np.random.default_rng(5)
    true = np.array([0.0, 50.0, 100.0, 200.0, 400.0])
    u_x, u_y = np.array([0.5, 1.0, 1.5, 3.0, 6.0]), 2.0
    inside = []
    for _ in range(1000):
        x, y = true + generator.normal(size=5) * u_x, 3.0 + 0.97 * true + generator.normal(size=5) * u_y
        line = line_in_both_axes(x, y, u_x, u_y).line
        inside.append(
            (abs(line.slope - 0.97) <= 1.96 * line.u_slope, abs(line.intercept - 3.0) <= 1.96 * line.u_intercept)
        )
    assert np.mean(inside, axis=0) == pytest.approx([0.95, 0.95], abs=0.022)


def test_gases_of_one_supplier_leave_the_slope_less_sure():
    x, y = np.array([100.0, 300.0, 500.0, 900.0]), np.array([99.0, 305.0, 497.0, 905.0])
    own, common = (0.01 * x) ** 2, 0.02 * x
    apart = line_in_both_axes(x, y, np.sqrt(own + common**2), 2.0).line
    shared = line_in_both_axes(x, y, np.diag(own) + np.outer(common, common), 2.0).line
    assert shared.u_slope > 1.2 * apart.u_slope


@settings(max_examples=40, deadline=None)
@given(scale_x=st.sampled_from([1e-4, 3.0, 1e5]), scale_y=st.sampled_from([1e-3, 0.4, 1e4]), seed=st.integers(0, 9))
def test_units_do_not_matter(scale_x, scale_y, seed):
    x, y, full = correlated_case(seed)
    plain = fit_full(x, y, full).line
    scales = np.repeat([scale_x, scale_y], len(x))
    other = fit_full(x * scale_x, y * scale_y, full * np.outer(scales, scales)).line
    assert other.slope * scale_x / scale_y == pytest.approx(plain.slope, rel=1e-8)
    assert other.u_intercept / scale_y == pytest.approx(plain.u_intercept, rel=1e-8)
    assert other.chi_square == pytest.approx(plain.chi_square, rel=1e-8)


@settings(max_examples=30, deadline=None)
@given(seed=st.integers(0, 30))
def test_exchanged_axes_give_the_same_line(seed):
    x, y, full = correlated_case(seed)
    n = len(x)
    order = np.concatenate([np.arange(n, 2 * n), np.arange(n)])
    forward, backward = fit_full(x, y, full).line, fit_full(y, x, full[np.ix_(order, order)]).line
    assert backward.slope * forward.slope == pytest.approx(1.0, rel=1e-7)
    assert backward.chi_square == pytest.approx(forward.chi_square, rel=1e-8, abs=1e-12)


@pytest.mark.parametrize(
    ("u_x", "u_y", "cross", "message"),
    [
        (-1.0, 1.0, None, "must not be negative"),
        (0.0, 0.0, None, "exactly known"),
        (1.0, [1.0, 2.0], None, "one for all, 3, or 3 by 3"),
        (np.triu(np.ones((3, 3))), 1.0, None, "symmetric"),
        (np.nan, 1.0, None, "finite"),
        (1.0, 1.0, np.zeros((2, 2)), "between the axes"),
    ],
)
def test_uncertainties_that_cannot_be_are_refused(u_x, u_y, cross, message):
    with pytest.raises(LineInputError, match=message):
        line_in_both_axes([0.0, 1.0, 2.0], [0.0, 1.0, 2.1], u_x, u_y, cross)
