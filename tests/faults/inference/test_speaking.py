"""Bins of a number not yet measured."""

import itertools
import math

import pytest

from flueproof.faults.inference.speaking import bin_likelihood, bins_of


def test_bins_cover_everything_once(knowledge):
    bins = bins_of(knowledge.observations["gain"].likelihood)
    assert (bins[0][0], bins[-1][1]) == (-math.inf, math.inf)
    assert all(left[1] == right[0] for left, right in itertools.pairwise(bins))


@pytest.mark.parametrize("cause", ["tired", None])
def test_the_bins_of_a_spread_add_up_to_one(knowledge, cause):
    likelihood = knowledge.observations["gain"].likelihood
    spread = likelihood.under.get(cause, likelihood.usual)
    assert math.fsum(bin_likelihood(likelihood, spread, *one) for one in bins_of(likelihood)) == pytest.approx(1.0)
