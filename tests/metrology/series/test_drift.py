import numpy as np
import pytest

from flueproof.metrology.errors import ReadingsError
from flueproof.metrology.series.drift import drift_of, von_neumann_limit, von_neumann_ratio


def test_slope_and_its_uncertainty_agree_with_numpy():
    generator = np.random.default_rng(9)
    times, readings = np.sort(generator.uniform(0, 100, 12)), generator.normal(size=12)
    (slope, _), covariance = np.polyfit(times, readings, 1, cov=True)
    got = drift_of(times, readings)
    assert got.slope == pytest.approx(slope)
    assert got.u_slope == pytest.approx(np.sqrt(covariance[0, 0]))


def test_white_noise_crosses_the_limit_as_often_as_said():
    noise = np.random.default_rng(10).normal(size=(8000, 12))
    steps = np.sum(np.diff(noise, axis=1) ** 2, axis=1) / (11 * noise.var(axis=1, ddof=1))
    assert np.mean(steps < von_neumann_limit(12)) == pytest.approx(0.05, abs=0.008)


def test_a_straight_line_drifts_beyond_doubt_and_a_flat_one_not_at_all():
    assert drift_of([0, 1, 2, 3], [1.0, 2.0, 3.0, 4.0]).t > 1e6
    assert drift_of([0, 1, 2], [5.0, 5.0, 5.0]).t == 0.0
    assert von_neumann_ratio(np.arange(10.0)) < von_neumann_limit(10, 0.01)


def test_what_cannot_drift_is_refused():
    for call in (
        lambda: drift_of([1, 1, 1], [1.0, 2.0, 3.0]),
        lambda: drift_of([1, 2, 3], [1.0, 2.0]),
        lambda: von_neumann_ratio([2.0, 2.0, 2.0]),
        lambda: von_neumann_limit(3),
        lambda: von_neumann_limit(10, 0.6),
    ):
        with pytest.raises(ReadingsError):
            call()
