"""Polynomials of low degree."""

import numpy as np
import pytest

from flueproof.metrology.errors import LineInputError
from flueproof.metrology.lines.polynomial import fit_polynomial
from flueproof.metrology.lines.straight import ordinary_line

X = np.linspace(0.0, 4000.0, 12)


@pytest.mark.parametrize("degree", [1, 2, 3, 4, 5])
def test_points_on_a_polynomial_give_it_back(degree):
    wanted = np.array([3.0, -2.0, 1.5, -0.7, 0.2, 0.05])[: degree + 1] / 1000.0 ** np.arange(degree + 1)
    y = np.polynomial.polynomial.polyval(X, wanted)
    assert fit_polynomial(X, y, degree).coefficients == pytest.approx(wanted, rel=1e-8)


def test_degree_one_is_the_ordinary_line():
    y = 2.0 + 0.5 * X + np.random.default_rng(0).normal(size=X.size)
    line, fit = ordinary_line(X, y), fit_polynomial(X, y, 1)
    assert fit.coefficients == pytest.approx([line.line.intercept, line.line.slope], rel=1e-12)
    assert fit.standard_errors == pytest.approx([line.line.u_intercept, line.line.u_slope], rel=1e-12)


@pytest.mark.parametrize("degree", [0, 6])
def test_a_degree_out_of_range_is_refused(degree):
    with pytest.raises(LineInputError, match="from 1 to 5"):
        fit_polynomial(X, X, degree)


def test_too_few_different_places_are_refused():
    with pytest.raises(LineInputError, match="depend on each other"):
        fit_polynomial([0.0, 1.0, 0.0, 1.0], [0.0, 1.0, 0.1, 0.9], 2)
