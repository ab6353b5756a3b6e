import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.simulate.physics.response import correlated_noise, noise_after, step_share
from flueproof.simulate.truth import StepResponse


def test_two_exponentials_give_the_figures_of_the_reference_sheet():
    # Team's reference sheet on flue gas, section 6 (own model): a = 0.95, 15 s and 120 s.
    share = step_share(np.array([30.0, 60.0, 120.0, 180.0, 300.0]), StepResponse(0.0, 15.0, 0.05, 120.0))
    assert share.tolist() == pytest.approx([0.8325, 0.9523, 0.9813, 0.9888, 0.9959], abs=6e-5)


@pytest.mark.parametrize(("part", "time_constants"), [(0.90, 2.3026), (0.95, 2.9957), (0.99, 4.6052)])
def test_first_order_rises_as_the_text_books_say(part, time_constants):
    share = step_share(np.array([10.0 * time_constants]), StepResponse(0.0, 10.0, 0.0, 45.0))
    assert share[0] == pytest.approx(part, abs=1e-5)


def test_nothing_arrives_before_the_dead_time():
    share = step_share(np.array([-5.0, 0.0, 4.9, 5.1]), StepResponse(5.0, 10.0, 0.05, 60.0))
    assert share[:3].tolist() == pytest.approx([0.0, 0.0, 0.0], abs=1e-12)
    assert share[3] > 0.0


@given(st.floats(0.1, 40.0), st.floats(2.0, 40.0), st.floats(0.0, 0.3))
def test_with_or_without_a_clogged_filter_the_share_only_rises_and_never_passes_one(lag_s, tau_s, tail):
    share = step_share(np.linspace(0.0, 2000.0, 400), StepResponse(3.0, tau_s, tail, 110.0), lag_s)
    assert np.all(np.diff(share) >= -1e-9)
    assert -1e-9 <= share[0] <= share[-1] <= 1.0 + 1e-9


def test_a_filter_as_slow_as_the_cell_is_the_limit_of_two_equal_stages():
    share = step_share(np.array([20.0]), StepResponse(0.0, 10.0, 0.0, 45.0), lag_s=10.0)
    assert share[0] == pytest.approx(1.0 - 3.0 * math.exp(-2.0), abs=1e-3)  # 1 - (1 + t/tau) exp(-t/tau)


def test_noise_has_the_asked_spread_and_correlation_at_uneven_times():
    times_s = np.cumsum(np.tile([1.0, 3.0], 20_000))
    noise = correlated_noise(times_s, 2.0, 4.0, np.random.default_rng(5))
    assert noise.std() == pytest.approx(2.0, rel=0.03)
    after_one, after_three = noise[1::2][:-1] * noise[2::2], noise[0::2] * noise[1::2]
    assert after_one.mean() / 4.0 == pytest.approx(math.exp(-0.25), abs=0.03)
    assert after_three.mean() / 4.0 == pytest.approx(math.exp(-0.75), abs=0.03)


def test_no_noise_is_none():
    assert correlated_noise(np.arange(4.0), 0.0, 4.0, np.random.default_rng(1)).tolist() == [0.0] * 4
    assert correlated_noise(np.empty(0), 1.0, 4.0, np.random.default_rng(1)).size == 0


def test_noise_a_moment_later_is_the_old_one_and_much_later_a_new_one():
    assert noise_after(1.5, 0.0, 4.0, 9.0) == 1.5
    assert noise_after(1.5, 1e6, 4.0, 0.7) == pytest.approx(0.7)
