import numpy as np
import pytest

from flueproof.metrology.errors import LevelError, MonteCarloError
from flueproof.metrology.propagation.intervals import shortest_interval, symmetric_interval


def test_the_symmetric_interval_is_numpy_s_hazen_quantile():
    results = np.random.default_rng(1).normal(size=4321)
    low, high = np.quantile(results, [0.025, 0.975], method="hazen")
    assert symmetric_interval(results, 0.95) == pytest.approx((low, high))


def test_turning_results_over_turns_the_symmetric_interval_over():
    results = np.random.default_rng(2).exponential(size=1000)
    low, high = symmetric_interval(results, 0.9)
    assert symmetric_interval(-results, 0.9) == pytest.approx((-high, -low))


def test_the_shortest_interval_leans_to_where_results_crowd():
    results = np.sort(np.random.default_rng(3).exponential(size=20_000))
    low, high = shortest_interval(results, 0.95)
    assert low < 0.02
    assert high == pytest.approx(-np.log(0.05), abs=0.1)
    assert np.mean((results >= low) & (results <= high)) == pytest.approx(0.95, abs=1e-3)


def test_too_few_results_have_no_interval():
    for interval in (symmetric_interval, shortest_interval):
        with pytest.raises(MonteCarloError, match="too few"):
            interval(np.arange(9.0), 0.95)
        with pytest.raises(LevelError):
            interval(np.arange(9.0), 95.0)
    with pytest.raises(MonteCarloError, match="15 results are too few"):
        symmetric_interval(np.arange(15.0), 0.95)
