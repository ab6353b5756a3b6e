import math

import numpy as np
import pytest

from flueproof.metrology.distributions import CurvedTrapezoid, Normal, Rectangular, TypeA, UShaped
from flueproof.metrology.errors import BudgetError, EmptyBudgetError, LevelError, MonteCarloError
from flueproof.metrology.monte_carlo import (
    block_power,
    draw_results,
    first_order_holds,
    lattice_results,
    numerical_tolerance,
    propagate,
    turned,
)
from flueproof.metrology.propagation.first_order import Uncertain
from flueproof.metrology.propagation.intervals import Interval, symmetric_interval

INPUTS = [
    Uncertain(2.0, Normal(0.3)), Uncertain(5.0, TypeA(0.8, 4)), Uncertain(1.0, Rectangular(0.5)),
    Uncertain(0.0, UShaped(1.0)), Uncertain(0.0, CurvedTrapezoid(0.4, 0.1)),
]  # fmt: skip


def model(a, b, c, d, e):
    return a * b / c + d * c + e


def by_plain_numpy(generator, draws):
    """The same inputs and model in plain numpy, sharing no line with the code under test."""
    a = generator.normal(2.0, 0.3, draws)
    b = 5.0 + 0.4 * generator.standard_t(3, draws)
    c = generator.uniform(0.5, 1.5, draws)
    d = np.sin(generator.uniform(-math.pi, math.pi, draws))
    half = generator.uniform(0.3, 0.5, draws)
    return a * b / c + d * c + generator.uniform(-1.0, 1.0, draws) * half


@pytest.mark.parametrize("sampler", ["lattice", "draws"])
def test_ends_agree_with_plain_numpy_draws(sampler):
    got = propagate(model, INPUTS, np.random.default_rng(1), level=0.95, sampler=sampler)
    plain = by_plain_numpy(np.random.default_rng(2), 200_000)
    low, high = np.quantile(plain, [0.025, 0.975])
    assert got.symmetric.low == pytest.approx(low, abs=0.06)
    assert got.symmetric.high == pytest.approx(high, abs=0.12)
    assert got.estimate == pytest.approx(plain.mean(), abs=0.04)
    assert got.shortest.high - got.shortest.low <= got.symmetric.high - got.symmetric.low
    assert got.settled


def test_a_turned_lattice_is_worth_many_times_its_points():
    inputs = [Uncertain(0.0, Normal(1.0))] * 4

    def total(*terms):
        return sum(terms)

    generator = np.random.default_rng(3)
    matrix = turned(total, inputs)
    lattice = [symmetric_interval(lattice_results(total, inputs, 11, generator, matrix), 0.95) for _ in range(40)]
    draws = [symmetric_interval(draw_results(total, inputs, 1 << 11, generator), 0.95) for _ in range(40)]
    assert np.std(draws, axis=0).max() > 8.0 * np.std(lattice, axis=0).max()
    assert np.mean(lattice, axis=0) == pytest.approx([-3.919928, 3.919928], abs=0.004)


def test_the_same_generator_gives_the_same_figures():
    first, second = (propagate(model, INPUTS, np.random.default_rng(5)) for _ in range(2))
    assert first == second


@pytest.mark.parametrize("sampler", ["lattice", "draws"])
@pytest.mark.parametrize("r", [0.8, -1.0])
def test_correlated_normal_inputs_keep_their_correlation(sampler, r):
    inputs = [Uncertain(0.0, Normal(1.0)), Uncertain(0.0, Normal(2.0))]
    got = propagate(
        lambda a, b: a + b, inputs, np.random.default_rng(6), sampler=sampler, correlation=[[1.0, r], [r, 1.0]]
    )
    assert got.u == pytest.approx(math.sqrt(5.0 + 4.0 * r), rel=0.01)


def test_more_digits_take_more_draws_and_the_end_of_patience_is_told():
    few = propagate(model, INPUTS, np.random.default_rng(7), digits=1)
    many = propagate(model, INPUTS, np.random.default_rng(7), digits=3, most_draws=300_000)
    assert few.settled
    assert few.draws < many.draws <= 300_000
    assert not many.settled
    assert many.tolerance == pytest.approx(few.tolerance / 100.0)


def test_a_result_that_does_not_vary_is_settled_at_once():
    got = propagate(lambda a: 0.0 * a + 3.0, [Uncertain(1.0, Normal(1.0))], np.random.default_rng(8))
    assert (got.estimate, got.u, got.settled, got.tolerance) == (3.0, 0.0, True, 0.0)


def test_the_ends_of_the_watched_interval_decide_when_to_stop():
    inputs = [Uncertain(0.0, Normal(1.0))] * 3

    def squares(a, b, c):
        return a * a + b * b + c * c

    asked = {"level": 0.95, "digits": 2, "sampler": "draws"}
    shortest = propagate(squares, inputs, np.random.default_rng(9), watched="shortest", **asked)
    assert shortest.shortest.low < propagate(squares, inputs, np.random.default_rng(9), **asked).symmetric.low


def test_blocks_grow_with_the_level():
    assert 1 << block_power(0.95) >= 10_000
    assert 1 << block_power(0.9999) >= 1_000_000


def test_tolerance_is_half_a_unit_of_the_last_digit_after_rounding():
    assert numerical_tolerance(0.0996, 2) == pytest.approx(0.005)
    assert numerical_tolerance(0.0) == 0.0


def test_first_order_holds_only_where_both_ends_agree():
    drawn = Interval(-2.0, 2.0)
    assert first_order_holds(Interval(-2.04, 1.96), drawn, 0.05)
    assert not first_order_holds(Interval(-2.0, 2.06), drawn, 0.05)


@pytest.mark.parametrize(
    ("asked", "error"),
    [
        ({"inputs": []}, EmptyBudgetError), ({"level": 95.0}, LevelError), ({"digits": 0}, MonteCarloError),
        ({"sampler": "sobol"}, MonteCarloError), ({"model": lambda *_: 1.0}, MonteCarloError),
        ({"model": lambda a, *_: a * np.nan}, MonteCarloError), ({"correlation": [[1.0]]}, BudgetError),
        ({"inputs": [Uncertain(0.0, Normal(1.0))] * 40, "model": lambda *a: sum(a)}, MonteCarloError),
    ],
)  # fmt: skip
def test_what_cannot_be_propagated_is_refused(asked, error):
    given = {"model": model, "inputs": INPUTS, "generator": np.random.default_rng(1)} | asked
    with pytest.raises(error):
        propagate(**given)


def test_a_tolerance_of_nothing_is_refused():
    with pytest.raises(MonteCarloError):
        numerical_tolerance(-1.0)
