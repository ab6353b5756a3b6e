"""Response time as the display shows it, and what the owner would read at the hold."""

import math

import numpy as np
import pytest

from flueproof.readings.response_time import displayed_at, is_sparse, time_to_share_s
from flueproof.readings.settling import settle
from flueproof.readings.shown import read_shown

EVERY_SECOND = np.arange(0.0, 301.0)


def first_order(times, tau=12.0, dead=5.0, top=500.0):
    return top * (1 - np.exp(-np.maximum(times - dead, 0) / tau))


@pytest.mark.parametrize(("share", "taus"), [(0.5, 0.6931), (0.9, 2.3026), (0.95, 2.9957), (0.99, 4.6052)])
def test_first_order_times_are_the_textbook_multiples_of_tau(share, taus):
    """T90 = ln(10) tau and its like: textbook."""
    at_s = time_to_share_s(EVERY_SECOND, first_order(EVERY_SECOND), share, start=0.0, settled=500.0, gas_on_s=0.0)
    assert at_s - 5.0 == pytest.approx(12.0 * taus, abs=0.05)


def test_a_level_the_display_never_reached_is_inf():
    times = np.arange(0.0, 31.0)
    at_s = time_to_share_s(times, first_order(times), 0.95, start=0.0, settled=500.0, gas_on_s=0.0)
    assert math.isinf(at_s)


def test_extrapolation_does_not_rescue_a_slow_cell(make_response):
    slow = make_response(fast_s=38.0, tail_share=0.15, slow_s=150.0)
    settled = settle(slow.looks(), gas_on_s=0.0)
    assert settled.value > 1.05 * slow.looks().values[-1]
    assert math.isinf(settled.t95_s)


def test_between_typed_looks_the_crossing_stays_between_them(make_response):
    settled = settle(make_response().looks((0, 30, 60, 90, 120)), gas_on_s=0.0)
    assert 0 < settled.t50_s < 30 < settled.t90_s < 60


def test_one_stray_look_does_not_make_it_fast():
    shown = first_order(EVERY_SECOND)
    shown[6] = 600.0
    assert time_to_share_s(EVERY_SECOND, shown, 0.9, start=0.0, settled=500.0, gas_on_s=0.0) > 30


def test_steps_of_a_few_digits_have_no_response_time(make_response):
    assert math.isnan(settle(make_response(top=6.0).looks(), gas_on_s=0.0).t90_s)


@pytest.mark.parametrize(("hold", "shown"), [(60, 468.0), (89, 468.0), (90, 481.0), (125, 486.0), (None, 486.0)])
def test_the_owner_reads_the_last_look_not_later_than_the_hold(hold, shown):
    looks = read_shown([0, 402, 468, 481, 486], [0, 30, 60, 90, 120], 1.0)
    assert displayed_at(looks, hold, 0.0) == shown


def test_a_trace_that_ends_before_the_hold_has_no_displayed_value():
    assert displayed_at(read_shown([0, 402, 468], [0, 30, 60], 1.0), 180, 0.0) is None


def test_text_at_the_hold_is_kept_as_text():
    assert displayed_at(read_shown([0, 402, "OVER"], [0, 30, 60]), 60, 0.0) == "OVER"


def test_a_logger_is_told_from_a_person():
    assert not is_sparse(EVERY_SECOND)
    assert is_sparse(np.array([0.0, 30.0, 60.0]))
