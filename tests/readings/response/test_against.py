"""Readings that go back while the gas is on are not settled, and their uncertainty says so."""

import numpy as np
import pytest

from flueproof.readings.settling import settle
from flueproof.readings.shown import read_shown

TYPED_S = [0, 30, 60, 90, 120]


def risen_then(rate, end_s=125.0, top=500.0, noise=0.0, seed=0):
    times = np.arange(0.0, end_s)
    values = top * (1.0 - np.exp(-np.maximum(times - 5.0, 0.0) / 10.0)) + rate * np.maximum(times - 60.0, 0.0)
    return times, np.round(values + noise * np.random.default_rng(seed).standard_normal(len(times)))


def covers(settled, one, other):
    return settled.value - 2 * settled.u <= min(one, other) and settled.value + 2 * settled.u >= max(one, other)


@pytest.mark.parametrize("rate", [-1.0, -0.5, -0.2])
@pytest.mark.parametrize("noise", [0.0, 1.0])
def test_a_trace_that_rises_to_500_and_falls_is_not_settled_and_covers_peak_and_last(rate, noise):
    times, values = risen_then(rate, noise=noise)
    settled = settle(read_shown(values, times, 1.0), gas_on_s=0.0)
    assert not settled.settled
    assert settled.reason == (
        "The reading falls while the gas is on: a leak that grows, an empty bottle or a cell that droops."
    )
    assert covers(settled, values[-1], 498.0)
    assert settled.low <= values[-1] < 498.0 <= settled.high


def test_a_fall_before_the_purge_is_seen_and_the_purge_alone_is_not():
    for rate, falls in ((-0.5, True), (0.0, False)):
        times, values = risen_then(rate, end_s=220.0)
        values = np.where(times > 150, values[150] * np.exp(-np.maximum(times - 155, 0) / 12), values)
        settled = settle(read_shown(np.round(values), times, 1.0), gas_on_s=0.0)
        assert settled.reason.startswith("The reading falls") == falls


def test_oxygen_that_creeps_back_up_is_told_in_its_own_words():
    times = np.arange(0.0, 200.0)
    values = 0.2 + 20.7 * np.exp(-np.maximum(times - 5.0, 0.0) / 10.0) + 0.01 * np.maximum(times - 80.0, 0.0)
    settled = settle(read_shown(np.round(values, 1), times, 0.1), gas_on_s=0.0)
    assert not settled.settled
    assert settled.reason.startswith("The reading creeps back up while the gas is on:")
    assert covers(settled, 0.2, values[-1])


@pytest.mark.parametrize("shown", [[0, 440, 490, 470, 450], [0, 450, 488, 480, 470], [0, 440, 480, 490, 440]])
def test_typed_looks_that_fall_are_not_settled(shown):
    settled = settle(read_shown(shown, TYPED_S, 1.0), gas_on_s=0.0)
    assert not settled.settled
    assert settled.reason.startswith("The reading falls while the gas is on:")
    assert covers(settled, max(shown), shown[-1])


@pytest.mark.parametrize("shown", [[0, 440, 480, 490, 489], [0, 440, 490, 488, 489], [0, 490, 481, 489, 495]])
def test_a_count_or_two_to_and_fro_is_no_fall(shown):
    assert "falls" not in settle(read_shown(shown, TYPED_S, 1.0), gas_on_s=0.0).reason


def test_the_normal_population_never_falls(draw_response):
    generator = np.random.default_rng(21)
    reasons = []
    for seed in range(60):
        one = draw_response(generator)
        reasons.append(settle(one.looks(np.arange(0.0, 241.0), seed=seed), gas_on_s=0.0).reason)
        reasons.append(settle(one.looks(TYPED_S, seed=seed), gas_on_s=0.0).reason)
    assert not [reason for reason in reasons if "falls" in reason]
