"""The posterior of shape and settled value."""

import numpy as np
import pytest

from flueproof.readings.response.posterior import posterior_of
from flueproof.readings.settling import samples_of


def moments(posterior):
    spread = posterior.shape_moment - np.outer(posterior.shape_mean, posterior.shape_mean)
    return posterior.shape_mean, np.sqrt(np.maximum(np.diag(spread), 0.0))


def test_an_almost_exact_long_trace_leaves_no_doubt(make_response, population_prior):
    exact = make_response(noise=0.02, step=0.01)
    posterior = posterior_of(samples_of(exact.looks(np.arange(0.0, 600.0)), 0.0), population_prior)
    mean, _ = moments(posterior)
    assert mean == pytest.approx([np.log(12.0), 0.08, np.log(75.0), 5.0], abs=0.03)
    assert posterior.settled.mean == pytest.approx(450.0, abs=0.05)
    assert posterior.settled.sd < 0.1


@pytest.mark.parametrize(("top", "noise"), [(450.0, 0.3), (100.0, 1.0)])
def test_shape_and_value_are_where_the_posterior_says(draw_response, population_prior, top, noise):
    generator = np.random.default_rng(31)
    pulls = []
    for seed in range(80):
        one = draw_response(generator, top=top, noise=noise)
        posterior = posterior_of(samples_of(one.looks(seed=seed), 0.0), population_prior)
        mean, sd = moments(posterior)
        truth = np.array([np.log(one.fast_s), one.tail_share, np.log(one.slow_s)])
        value = (posterior.settled.mean - one.top) / posterior.settled.sd
        pulls.append([*((mean[:3] - truth) / sd[:3]), value])
    pulls = np.array(pulls)
    assert np.all(np.abs(pulls.mean(axis=0)) < 0.35)  # three standard errors of a mean of 80
    assert np.all(pulls.std(axis=0) < 1.25)
    assert np.all(pulls.std(axis=0) > 0.6)


def test_noise_is_told_from_shape(make_response, population_prior):
    noisy = make_response(noise=3.0)
    posterior = posterior_of(samples_of(noisy.looks(np.arange(0.0, 240.0)), 0.0), population_prior)
    assert posterior.noise_sd == pytest.approx(3.0, rel=0.35)
    assert sum(posterior.correlation.values()) == pytest.approx(1.0)
