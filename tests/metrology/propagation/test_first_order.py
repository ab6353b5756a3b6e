import GTC
import numpy as np
import pytest

from flueproof.metrology.budget import combined_uncertainty
from flueproof.metrology.distributions import Normal, Rectangular
from flueproof.metrology.errors import EmptyBudgetError, MonteCarloError
from flueproof.metrology.propagation.first_order import (
    Uncertain,
    curvatures,
    linear_budget,
    second_order_terms,
    sensitivities,
)

INPUTS = [Uncertain(2.0, Normal(0.01, 7), "a"), Uncertain(-3.0, Normal(0.02), "b"), Uncertain(0.5, Normal(0.01), "c")]


def model(a, b, c):
    return a * a * b + np.exp(c) * b


def test_sensitivities_are_the_derivatives():
    exact = [2 * 2.0 * -3.0, 4.0 + np.exp(0.5), -3.0 * np.exp(0.5)]
    assert sensitivities(model, INPUTS) == pytest.approx(exact, rel=1e-8)


def test_a_first_order_budget_agrees_with_gtc():
    a, b, c = (GTC.ureal(i.estimate, i.distribution.u, i.distribution.dof) for i in INPUTS)
    peer = a * a * b + GTC.exp(c) * b
    got = combined_uncertainty(linear_budget(model, INPUTS))
    assert got.u == pytest.approx(GTC.uncertainty(peer), rel=1e-7)
    assert got.dof == pytest.approx(GTC.dof(peer), rel=1e-6)


def test_an_input_without_uncertainty_has_no_sensitivity_and_no_name_of_its_own():
    budget = linear_budget(lambda a, b: a * b, [Uncertain(2.0, Normal(0.0)), Uncertain(3.0, Normal(0.1))])
    assert [line.sensitivity for line in budget.components] == pytest.approx([0.0, 2.0])
    assert [line.name for line in budget.components] == ["input 1", "input 2"]


def test_curvatures_of_a_product_and_a_square():
    inputs = [Uncertain(1.0, Rectangular(0.3)), Uncertain(2.0, Normal(0.5))]
    u = [i.distribution.u for i in inputs]
    got = curvatures(lambda a, b: a * b + 3.0 * b * b, inputs)
    assert got == pytest.approx(np.array([[0.0, u[0] * u[1]], [u[0] * u[1], 6.0 * u[1] ** 2]]), abs=1e-12)


def test_second_order_of_a_square_is_exact_for_normal_inputs():
    """The variance of x^2 is 4 x^2 u^2 + 2 u^4."""
    inputs = [Uncertain(3.0, Normal(0.5))]
    first = combined_uncertainty(linear_budget(lambda x: x * x, inputs)).u
    total = first**2 + second_order_terms(lambda x: x * x, inputs).sum()
    assert total == pytest.approx(4 * 9 * 0.25 + 2 * 0.5**4, rel=1e-8)


def test_second_order_of_a_cube_takes_the_third_derivative():
    """JCGM 100:2008, 5.1.2 note: [f''^2/2 + f' f'''] u^4 with f = x^3 at x = 2."""
    terms = second_order_terms(lambda x: x**3, [Uncertain(2.0, Normal(0.1))])
    assert terms[0, 0] == pytest.approx((12.0**2 / 2 + 12.0 * 6.0) * 1e-4, rel=1e-6)


def test_a_mixed_third_derivative_counts_for_the_pair_it_belongs_to():
    terms = second_order_terms(lambda x, y: x * y * y, [Uncertain(1.0, Normal(0.1)), Uncertain(2.0, Normal(0.2))])
    assert terms[0, 1] == pytest.approx((0.5 * 4.0**2 + 4.0 * 2.0) * 0.01 * 0.04, rel=1e-6)
    assert terms[1, 0] == pytest.approx(0.5 * 4.0**2 * 0.01 * 0.04, rel=1e-6)


def test_a_model_that_returns_no_numbers_is_refused():
    with pytest.raises(EmptyBudgetError):
        sensitivities(model, [])
    with pytest.raises(MonteCarloError, match="shape"):
        sensitivities(lambda _a: np.zeros(3), [Uncertain(0.0, Normal(1.0))])
    with pytest.raises(MonteCarloError, match="finite"):
        sensitivities(lambda a: a + np.inf, [Uncertain(1.0, Normal(1.0))])
