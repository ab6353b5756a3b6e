import numpy as np
import pytest

from flueproof.metrology.errors import ReadingsError
from flueproof.metrology.series.autocorrelation import autocorrelated_mean, neighbor_correlation, variance_inflation
from flueproof.metrology.type_a import mean_of


@pytest.mark.parametrize("rho", [-0.5, 0.0, 0.6, 0.95])
def test_the_inflation_is_the_sum_over_all_lags(rho):
    lags = np.arange(1, 25)
    assert variance_inflation(25, rho) == pytest.approx(1 + 2 * np.sum((1 - lags / 25) * rho**lags))


def test_the_mean_of_following_noise_scatters_as_said():
    generator = np.random.default_rng(8)
    rho, count = 0.7, 40
    series = np.empty((3000, count))
    series[:, 0] = generator.normal(size=3000)
    for at in range(1, count):
        series[:, at] = rho * series[:, at - 1] + np.sqrt(1 - rho**2) * generator.normal(size=3000)
    assert series.mean(axis=1).std() == pytest.approx(np.sqrt(variance_inflation(count, rho) / count), rel=0.05)


def test_no_correlation_leaves_the_plain_mean():
    readings = [1.0, 3.0, 2.0, 2.5]
    assert autocorrelated_mean(readings, 0.0).u == pytest.approx(mean_of(readings).u)
    assert autocorrelated_mean([1.0, 3.0, 1.0, 3.0]).correlation == 0.0  # alternation is not believed


def test_readings_all_alike_have_no_correlation():
    assert neighbor_correlation([5.0, 5.0, 5.0]) == 0.0


def test_a_correlation_of_one_is_no_mean():
    with pytest.raises(ReadingsError):
        variance_inflation(10, 1.0)
