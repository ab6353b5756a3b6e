"""Typed looks that no response explains: one slip is named and widens the interval."""

import numpy as np
import pytest

from flueproof.readings.settling import settle
from flueproof.readings.shown import read_shown

TYPED_S = [0, 30, 60, 90, 120]


@pytest.mark.parametrize("shown", [[0, 440, 480, 440, 495], [0, 440, 480, 490, 540], [0, 470, 540, 490, 495]])
def test_one_slip_within_the_range_is_named_and_widens(shown):
    clean = settle(read_shown([0, 440, 480, 490, 495], TYPED_S, 1.0), gas_on_s=0.0)
    settled = settle(read_shown(shown, TYPED_S, 1.0), gas_on_s=0.0)
    assert not settled.settled
    assert "one look does not fit" in settled.reason
    assert settled.low < 500 < settled.high
    assert abs(settled.value - 500) < 2 * settled.u
    assert settled.u > clean.u


def test_a_slip_is_named_with_a_known_population_too(response, population_prior):
    shown = response.shown(np.array(TYPED_S, dtype=float))
    shown[3] -= 50
    settled = settle(read_shown(shown, TYPED_S, 1.0), gas_on_s=0.0, prior=population_prior)
    assert "one look does not fit" in settled.reason
    assert settled.low < response.top < settled.high


def test_looks_that_follow_nothing_cover_all_that_was_shown():
    shown = [0, 450, 405, 470, 410, 500]
    settled = settle(read_shown(shown, [0, 30, 60, 90, 120, 150], 1.0), gas_on_s=0.0)
    assert not settled.settled
    assert abs(settled.value - 410) < 2 * settled.u > abs(settled.value - 500)
