"""Linear least squares."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueproof.metrology.errors import LineInputError
from flueproof.metrology.lines.least_squares import fit_linear


def design(count=20, seed=0):
    generator = np.random.default_rng(seed)
    return np.column_stack([np.ones(count), generator.normal(size=(count, 2))]), generator.normal(size=count)


def test_residuals_are_orthogonal_to_the_columns():
    matrix, values = design()
    fit = fit_linear(matrix, values)
    assert matrix.T @ fit.residuals == pytest.approx(np.zeros(3), abs=1e-13)
    assert values - matrix @ fit.coefficients == pytest.approx(fit.residuals, abs=1e-13)


def test_covariance_is_the_inverse_normal_matrix_times_the_scatter():
    matrix, values = design()
    fit = fit_linear(matrix, values)
    expected = np.linalg.inv(matrix.T @ matrix) * fit.residual_sum / fit.dof
    assert fit.covariance == pytest.approx(expected, rel=1e-10)
    assert fit.standard_errors == pytest.approx(np.sqrt(np.diag(expected)), rel=1e-10)


@settings(deadline=None)
@given(st.sampled_from([1e-9, 0.3, 7.0, 1e6]), st.sampled_from([1e-6, 25.4, 1e8]))
def test_units_do_not_matter(of_column, of_value):
    matrix, values = design()
    plain = fit_linear(matrix, values)
    other = fit_linear(matrix * [1.0, of_column, 1.0], values * of_value)
    ratio = other.coefficients / plain.coefficients / of_value * [1.0, of_column, 1.0]
    assert ratio == pytest.approx(np.ones(3), rel=1e-12)
    assert other.r_squared == pytest.approx(plain.r_squared, rel=1e-9)


@pytest.mark.parametrize(
    ("matrix", "values", "message"),
    [
        (np.ones((2, 2)), [1.0, 2.0], "more points than coefficients"),
        (np.ones((3, 2)), [1.0, 2.0, 3.0], "depend on each other"),
        ([[1.0, 0.0]] * 3, [1.0, 2.0, 3.0], "zero throughout"),
        ([[1.0], [2.0]], [1.0, np.nan], "finite number"),
        (np.ones((3, 1)), [1.0, 2.0], "more points than coefficients"),
    ],
)
def test_designs_without_an_answer_are_refused(matrix, values, message):
    with pytest.raises(LineInputError, match=message):
        fit_linear(matrix, values)


def test_a_constant_series_is_fully_explained():
    assert fit_linear(np.ones((4, 1)), np.full(4, 3.0)).r_squared == 1.0
