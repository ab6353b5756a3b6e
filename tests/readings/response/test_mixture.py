"""Mixtures of normal distributions."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import special

from flueproof.readings.response.mixture import mixture_of


@given(st.floats(0.001, 0.999), st.floats(-50, 50), st.floats(0.01, 20))
def test_one_part_has_the_quantiles_of_a_normal_distribution(share, mean, sd):
    one = mixture_of(np.zeros(1), np.array([mean]), np.array([sd]))
    assert one.quantile(share) == pytest.approx(mean + sd * special.ndtri(share), abs=1e-4 * sd)


@given(
    st.lists(st.tuples(st.floats(-3, 0), st.floats(-5, 5), st.floats(0.1, 3)), min_size=1, max_size=8),
    st.floats(0.02, 0.98),
)
def test_a_quantile_has_its_share_below_it(parts, share):
    log_weights, means, sds = (np.array(column) for column in zip(*parts, strict=True))
    mixture = mixture_of(log_weights, means, sds)
    assert mixture.below(mixture.quantile(share)) == pytest.approx(share, abs=1e-4)


def test_moments_are_those_of_plain_draws():
    mixture = mixture_of(np.log([0.7, 0.3]), np.array([0.0, 4.0]), np.array([1.0, 2.0]))
    generator = np.random.default_rng(1)
    draws = np.where(generator.random(400_000) < 0.7, generator.normal(0, 1, 400_000), generator.normal(4, 2, 400_000))
    assert mixture.mean == pytest.approx(draws.mean(), abs=0.02)
    assert mixture.sd == pytest.approx(draws.std(), abs=0.02)


def test_the_faintest_parts_are_dropped():
    assert len(mixture_of(np.array([0.0, -20.0]), np.zeros(2), np.ones(2)).weights) == 1
