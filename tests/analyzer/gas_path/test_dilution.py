"""Dilution between two feeds, and its interval near zero. Own derivation: 1 - f = P(outer)/P(inner)."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.analyzer.gas_path.dilution import STRONGEST, between_feeds, excess_air, interval_near_zero, ratio_above
from flueproof.analyzer.gas_path.products import fit_products

SMALL = st.floats(-0.05, 0.2)
SPREAD = st.floats(1e-4, 0.05)


@pytest.mark.parametrize("true_u_away", [0.0, 0.1, 0.5, 1.0, 2.0, 5.0])
def test_the_interval_near_zero_covers_at_least_95_per_cent(true_u_away):
    u = 0.004
    truth = true_u_away * u
    drawn = np.random.default_rng(3).normal(truth, u, 20_000)
    ends = np.array([interval_near_zero(float(value), u) for value in drawn])
    held = np.mean((ends[:, 0] <= truth) & (truth <= ends[:, 1]))
    assert held >= 0.95 - 3 * math.sqrt(0.95 * 0.05 / 20_000)


@given(value=SMALL, u=SPREAD)
def test_the_interval_stays_inside_0_to_1_and_never_shrinks_to_nothing(value, u):
    low, high = interval_near_zero(value, u)
    assert 0.0 <= low < high <= 1.0
    assert high >= 1.95 * u


@pytest.mark.parametrize("gain", [0.5, 0.98, 1.2])
@pytest.mark.parametrize("leak", [0.0, 0.01, 0.2, 0.6])
def test_the_leak_between_tip_and_instrument_is_found_whatever_the_gain(both_gases, leak, gain):
    found = fit_products([*both_gases(1 - leak, gain * (1 - leak), "tip"), *both_gases(1.0, gain, "instrument")])
    between = between_feeds(found, "tip", "instrument")
    assert between.value == pytest.approx(leak, abs=1e-6)
    assert between.channels == 2
    assert between.agreement < 1e-6


def test_an_o2_zero_error_behind_both_feeds_is_no_leak_between_them(both_gases):
    found = fit_products([*both_gases(0.95, 0.9, "tip"), *both_gases(0.95, 0.9, "instrument")])
    between = between_feeds(found, "tip", "instrument")
    assert between.value == pytest.approx(0.0, abs=1e-6)
    assert between.low == 0.0


def test_channels_that_contradict_each_other_do_not_agree(both_gases):
    found = fit_products([*both_gases(0.95, 0.98, "tip"), *both_gases(1.0, 0.98, "instrument")])
    assert between_feeds(found, "tip", "instrument").agreement > 100.0


def test_two_channels_tell_more_than_one(both_gases, o2):
    alone = fit_products([o2(0.95), o2(1.0, feed="instrument")])
    together = fit_products([*both_gases(0.95, 0.93, "tip"), *both_gases(1.0, 0.98, "instrument")])
    assert between_feeds(together, "tip", "instrument").u < between_feeds(alone, "tip", "instrument").u


def test_a_dead_channel_is_no_witness(both_gases):
    found = fit_products([*both_gases(0.95, 0.001, "tip"), *both_gases(1.0, 0.002, "instrument")])
    between = between_feeds(found, "tip", "instrument")
    assert between.channels == 1
    assert between.value == pytest.approx(0.05, abs=1e-6)


def test_one_feed_alone_says_nothing_of_what_lies_between(both_gases):
    assert between_feeds(fit_products(both_gases(0.95, 0.93, "tip")), "tip", "instrument") is None


def test_excess_air_is_what_o2_is_short_of(o2, co):
    found = excess_air(fit_products([o2(0.94)]), "tip")
    assert found.value == pytest.approx(0.06)
    assert found.low < 0.06 < found.high
    assert excess_air(fit_products([co(0.94)]), "tip") is None


@given(value=SMALL, u=SPREAD)
def test_the_likelihood_ratio_is_one_at_the_limit_and_turns_over_there(value, u):
    ratio = ratio_above(value, u, 0.01)
    assert ratio * (1 + 1e-9) >= 1.0 / STRONGEST
    assert ratio <= STRONGEST * (1 + 1e-9)
    assert (ratio >= 1.0) == (value >= 0.01)
    assert ratio * ratio_above(0.02 - value, u, 0.01) == pytest.approx(1.0, rel=1e-6)
    assert ratio_above(0.01, u, 0.01) == 1.0


def test_two_standard_uncertainties_above_the_limit_are_a_ratio_of_e_squared():
    assert ratio_above(0.03, 0.01, 0.01) == pytest.approx(math.exp(2.0))
