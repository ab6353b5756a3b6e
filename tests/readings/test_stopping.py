"""When gas may be shut off."""

import numpy as np
import pytest

from flueproof.readings.shown import read_shown
from flueproof.readings.stopping import may_stop

LIMIT = 22.5  # 5 % of 450 ppm


def first_stop(response, **asked):
    looks = response.looks(np.arange(0.0, 481.0))
    for seen in range(20, 481, 10):
        verdict = may_stop(looks.until(seen), LIMIT, 180.0, gas_on_s=0.0, **asked)
        if verdict.stop:
            return seen, verdict
    return None, verdict


def test_it_stops_once_the_tail_no_longer_matters_and_is_right(response, population_prior):
    seen, verdict = first_stop(response, prior=population_prior)
    assert 60 <= seen < 180
    assert 2 * verdict.settled.u_settling <= 0.2 * LIMIT
    assert abs(verdict.settled.value - 450) < 0.2 * LIMIT + 2 * verdict.settled.u_noise


def test_it_waits_for_hold_and_t95_where_response_time_is_judged(response, population_prior):
    seen, verdict = first_stop(response, prior=population_prior, response_time_judged=True)
    assert seen == 180
    assert verdict.settled.t95_s < 180


def test_it_says_about_how_long_to_wait_and_why(response, population_prior):
    verdict = may_stop(response.looks(np.arange(0.0, 45.0)), LIMIT, 180.0, gas_on_s=0.0, prior=population_prior)
    assert not verdict.stop
    assert 20 < verdict.wait_s < 150
    assert "Not settled" in verdict.why


def test_a_slow_cell_is_not_stopped_before_95_per_cent_was_shown(make_response):
    slow = make_response(fast_s=38.0, tail_share=0.15, slow_s=150.0)
    looks = slow.looks(np.arange(0.0, 91.0))
    verdict = may_stop(looks, 300.0, 60.0, gas_on_s=0.0, response_time_judged=True)
    assert not verdict.stop
    assert "95 %" in verdict.why


def test_a_tighter_limit_needs_more_gas(response, population_prior):
    looks = response.looks()
    assert may_stop(looks, 200.0, 180.0, gas_on_s=0.0, prior=population_prior).stop
    assert not may_stop(looks, 2.0, 180.0, gas_on_s=0.0, prior=population_prior).stop


def test_no_step_is_waited_for_and_then_believed():
    times = np.arange(0.0, 121.0)
    looks = read_shown(np.zeros(121), times, 1.0)
    assert not may_stop(looks.until(20.0), 5.0, 120.0, gas_on_s=0.0).stop
    assert may_stop(looks, 5.0, 120.0, gas_on_s=0.0).stop


def test_over_range_stops_the_gas_and_dashes_wait():
    over = read_shown([0, "OVER", "OVER"], [0, 30, 60], 1.0)
    assert may_stop(over, 5.0, 120.0, gas_on_s=0.0).stop
    absent = read_shown(["----", "----"], [0, 30], 1.0)
    assert not may_stop(absent, 5.0, 120.0, gas_on_s=0.0).stop


def test_a_limit_of_zero_is_refused(response):
    with pytest.raises(ValueError, match="above zero"):
        may_stop(response.looks(), 0.0, 180.0)


def snapping(*shown):
    """A display a second that snaps to 20.9 % within 0.1 and cannot go below 0."""
    return read_shown(list(shown), np.arange(float(len(shown))), 0.1, clamp_low=0.0, snap_to=20.9, snap_width=0.1)


def test_the_first_look_that_moves_is_no_end():
    """The gas has just come through the hose: six looks at 20.9 before it are not where it settles."""
    verdict = may_stop(snapping(*[20.9] * 6, 18.1), 0.3, 120.0, gas_on_s=0.0)
    assert not verdict.stop
    assert verdict.wait_s > 0


def test_a_display_that_has_not_moved_is_believed_after_the_hold_only():
    assert not may_stop(snapping(*[20.9] * 30), 0.3, 120.0, gas_on_s=0.0).stop
    assert may_stop(snapping(*[20.9] * 122), 0.3, 120.0, gas_on_s=0.0).stop


def test_a_display_that_came_to_zero_and_stays_is_enough():
    falling = [20.9, 20.9, 15.0, 8.0, 3.0, 1.0, 0.4, 0.2]
    assert not may_stop(snapping(*falling, *[0.0] * 5), 0.3, 120.0, gas_on_s=0.0).stop
    verdict = may_stop(snapping(*falling, *[0.0] * 60), 0.3, 120.0, gas_on_s=0.0)
    assert verdict.stop
    assert abs(verdict.settled.value) < 0.3


def test_above_the_range_nothing_more_is_waited_for():
    assert may_stop(read_shown([300.0, 900.0, "OVER"], np.arange(3.0), 1.0), LIMIT, 120.0, gas_on_s=0.0).stop


def test_a_display_that_flickers_beside_zero_has_come_there():
    falling = [20.9, 20.9, 15.0, 8.0, 3.0, 1.0, 0.4, 0.2]
    assert may_stop(snapping(*falling, *[0.0, 0.1, 0.0, 0.0, 0.1] * 8), 0.3, 120.0, gas_on_s=0.0).stop
