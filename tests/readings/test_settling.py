"""Settled values from traces, typed looks and standing displays, checked against the simulated truth."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.readings.errors import NoReadingsError, ReadingsError, TimesError
from flueproof.readings.settling import samples_of, settle
from flueproof.readings.shown import Looks, read_shown


def last_ten(looks):
    return looks.values[looks.times_s > looks.times_s[-1] - 10.0].mean()


class TestTraceCutAt120Seconds:
    def test_the_settled_value_is_right_where_the_last_ten_seconds_are_two_per_cent_low(
        self, response, population_prior
    ):
        looks = response.looks()
        settled = settle(looks, gas_on_s=0.0, prior=population_prior)
        assert last_ten(looks) / response.top - 1 == pytest.approx(-0.019, abs=0.003)
        assert abs(settled.value - response.top) < 2 * settled.u < 0.03 * response.top
        assert settled.low < response.top < settled.high

    def test_the_shape_is_found(self, response, population_prior):
        settled = settle(response.looks(), gas_on_s=0.0, prior=population_prior)
        assert settled.fast_s == pytest.approx(12.0, rel=0.05)
        assert settled.dead_s == pytest.approx(5.0, abs=0.3)
        assert settled.tail_share == pytest.approx(0.08, abs=0.03)

    def test_bias_and_coverage_over_the_population(self, draw_response, population_prior):
        generator = np.random.default_rng(11)
        errors, covered, plain = [], [], []
        for seed in range(120):
            one = draw_response(generator)
            looks = one.looks(seed=seed)
            settled = settle(looks, gas_on_s=0.0, prior=population_prior)
            errors.append(settled.value / one.top - 1)
            covered.append(settled.low <= one.top <= settled.high)
            plain.append(last_ten(looks) / one.top - 1)
        assert abs(np.mean(errors)) < 0.0025  # 0.2 % and the error of the mean of 120
        assert np.mean(covered) >= 0.91  # 0.95 less two standard errors
        assert np.std(errors) < 0.6 * np.sqrt(np.mean(np.square(plain)))

    def test_without_a_population_the_value_is_less_certain_and_still_covers(self, response, population_prior):
        broad = settle(response.looks(), gas_on_s=0.0)
        assert broad.u > settle(response.looks(), gas_on_s=0.0, prior=population_prior).u
        assert broad.low < response.top < broad.high

    def test_the_parts_add_up_to_u(self, response):
        settled = settle(response.looks(), gas_on_s=0.0)
        assert math.hypot(settled.u_settling, settled.u_noise, settled.u_step) == pytest.approx(settled.u)


class TestDisplayStep:
    def test_a_quiet_display_leaves_its_step_however_long_it_stands(self, make_response, population_prior):
        """JCGM 100:2008, F.2.2.1: step / sqrt(12), not divided by the number of looks."""
        quiet = make_response(top=100.3, noise=0.001)
        settled = settle(quiet.looks(np.arange(0.0, 600.0)), gas_on_s=0.0, prior=population_prior)
        assert 0.1 < settled.u_step <= 1 / math.sqrt(12)
        assert settled.low < 100.3 < settled.high

    def test_typed_looks_keep_the_whole_step(self, response):
        assert settle(response.looks((0, 30, 60, 90, 120)), gas_on_s=0.0).u_step == pytest.approx(1 / math.sqrt(12))

    def test_noise_of_a_step_spreads_the_rounding_over_the_looks(self, make_response):
        noisy = make_response(noise=1.0)
        assert settle(noisy.looks(np.arange(0.0, 600.0)), gas_on_s=0.0).u_step < 0.05


class TestNotSettled:
    def test_a_short_trace_says_how_much_longer_in_plain_words(self, response):
        settled = settle(response.looks(np.arange(0.0, 61.0)), gas_on_s=0.0)
        assert not settled.settled
        assert settled.more_s > 20
        assert settled.reason.startswith("Not settled, needs about ")

    def test_uncertainty_falls_with_time_until_it_is_settled(self, response):
        us = [settle(response.looks(np.arange(0.0, end)), gas_on_s=0.0).u for end in (60, 120, 240, 480)]
        assert us == sorted(us, reverse=True)
        assert settle(response.looks(np.arange(0.0, 480.0)), gas_on_s=0.0).settled

    def test_ten_seconds_say_next_to_nothing_and_say_so(self, response):
        settled = settle(response.looks(np.arange(0.0, 11.0)), gas_on_s=0.0)
        assert not settled.settled
        assert settled.low < response.top < settled.high
        assert settled.u > 0.2 * response.top

    def test_what_is_allowed_decides(self, response):
        looks = response.looks()
        assert settle(looks, gas_on_s=0.0, settling_allowed=30.0).settled
        assert not settle(looks, gas_on_s=0.0, settling_allowed=0.5).settled

    def test_one_look_after_gas_on_is_not_settled(self):
        settled = settle(read_shown([440], [60], 1.0), gas_on_s=0.0)
        assert settled.value == 440
        assert not settled.settled
        assert settled.u > 4


class TestTypedLooks:
    def test_five_looks_give_value_and_interval(self, response, population_prior):
        typed = response.looks((0, 30, 60, 90, 120))
        settled = settle(typed, gas_on_s=0.0, prior=population_prior, hold_s=120)
        assert settled.low < response.top < settled.high
        assert settled.displayed_at_hold == typed.values[-1] < settled.value
        assert settled.u > settle(response.looks(), gas_on_s=0.0, prior=population_prior).u

    def test_they_cover_over_the_population(self, draw_response, population_prior):
        generator = np.random.default_rng(12)
        drawn = [draw_response(generator) for _ in range(120)]
        settled = [settle(one.looks((0, 30, 60, 90, 120), seed), gas_on_s=0.0, prior=population_prior)
                   for seed, one in enumerate(drawn)]  # fmt: skip
        covered = [value.low <= one.top <= value.high for one, value in zip(drawn, settled, strict=True)]
        assert np.mean(covered) >= 0.91

    @pytest.mark.parametrize("start", [0.0, None])
    def test_looks_that_all_follow_the_switch_do_with_and_without_a_start_value(self, response, start):
        settled = settle(response.looks((30, 60, 90, 120)), gas_on_s=0.0, start_value=start)
        assert settled.low < response.top < settled.high

    def test_several_looks_without_times_are_one_repeat(self):
        two, many = settle(read_shown([489, 490], None, 1.0)), settle(read_shown([489, 490] * 8, None, 1.0))
        assert two.value == many.value == 489.5
        assert many.u > 0.5  # never divided by the root of 16


class TestFallingSteps:
    def test_oxygen_falls_to_its_settled_value(self, make_response, population_prior):
        oxygen = make_response(top=0.2, start=20.9, noise=0.03, step=0.1)
        settled = settle(oxygen.looks(), gas_on_s=0.0, prior=population_prior)
        assert settled.low < 0.2 < settled.high
        assert settled.u < 0.3
        assert settled.t90_s == pytest.approx(38, abs=4)

    def test_a_start_that_snaps_is_used_as_a_start(self, make_response, population_prior):
        oxygen = make_response(top=0.2, start=20.9, noise=0.0, step=0.1)
        times = np.array([0.0, 30.0, 60.0, 90.0, 120.0])
        looks = read_shown(oxygen.shown(times), times, 0.1, snap_to=20.9, snap_width=0.2)
        settled = settle(looks, gas_on_s=0.0, prior=population_prior)
        assert settled.bound is None
        assert settled.start == pytest.approx(20.9, abs=0.3)
        assert settled.low < 0.2 < settled.high

    def test_purging_after_the_gas_is_no_part_of_the_step(self, make_response, population_prior):
        on, off = make_response(), make_response(top=0.0, start=438.0)
        values = np.concatenate((on.shown(np.arange(121.0)), off.shown(np.arange(121.0), seed=3)))
        settled = settle(read_shown(values, np.arange(242.0), 1.0), gas_on_s=0.0, prior=population_prior)
        assert settled.low < 450 < settled.high


class TestGasOn:
    def test_it_is_found_where_the_reading_begins_to_move(self, make_response):
        late = make_response(gas_on_s=20.0)
        settled = settle(late.looks(np.arange(0.0, 200.0)))
        assert settled.gas_on_found
        assert settled.gas_on_s == pytest.approx(25.0, abs=0.5)
        assert math.isnan(settled.dead_s)
        assert settled.low < 450 < settled.high

    def test_typed_looks_start_with_the_gas(self, response):
        assert settle(response.looks((0, 30, 60, 90, 120))).gas_on_s == 0.0

    @pytest.mark.parametrize("gas_on", [120.0, 500.0, math.nan])
    def test_a_switch_outside_the_trace_is_refused(self, response, gas_on):
        with pytest.raises(TimesError, match="gas on at"):
            settle(response.looks(), gas_on_s=gas_on)


class TestBounds:
    @pytest.mark.parametrize(
        ("shown", "bound"), [([0, 400, "OVER", "OVER"], "above"), ([0, "----", "----", "----"], "absent")]
    )
    def test_text_at_the_end_is_a_bound_and_no_number(self, shown, bound):
        settled = settle(read_shown(shown, [0, 30, 60, 90], 1.0), gas_on_s=0.0, hold_s=90)
        assert settled.bound == bound
        assert math.isnan(settled.value)
        assert settled.displayed_at_hold == shown[-1]

    def test_above_the_range_is_above_all_that_was_shown(self):
        assert settle(read_shown([0, 1900, "OVER", "OVER"], [0, 30, 60, 90], 1.0)).low == 1900

    def test_a_display_that_stays_at_its_clamp_is_a_bound_below(self):
        settled = settle(read_shown([0, 0, 0], [0, 30, 60], 1.0, clamp_low=0.0), gas_on_s=0.0)
        assert (settled.bound, settled.value, settled.high) == ("below", 0.0, 0.5)

    def test_a_stray_dash_among_numbers_is_passed_over(self, response):
        times = np.arange(0.0, 121.0)
        shown = response.shown(times).tolist()
        shown[50] = "----"
        settled = settle(read_shown(shown, times, 1.0), gas_on_s=0.0)
        assert settled.bound is None
        assert settled.low < 450 < settled.high


class TestRoughTraces:
    def test_dropped_doubled_and_uneven_samples_change_little(self, response, population_prior):
        generator = np.random.default_rng(3)
        times = np.sort(np.arange(0.0, 121.0) + generator.uniform(-0.2, 0.2, 121))
        times = np.sort(np.concatenate((times[generator.random(121) > 0.05], times[30:33])))
        settled = settle(response.looks(times), gas_on_s=0.0, prior=population_prior)
        assert settled.low < 450 < settled.high

    def test_a_unit_unlike_its_population_is_not_forced_into_it(self, make_response, population_prior):
        slow = make_response(fast_s=34.0, tail_share=0.11, slow_s=110.0)
        settled = settle(slow.looks(), gas_on_s=0.0, prior=population_prior)
        assert settled.fast_s == pytest.approx(34, rel=0.1)
        assert settled.u > 4
        assert abs(settled.value - 450) < 2.5 * settled.u

    def test_a_step_too_small_to_see_is_a_standing_reading(self):
        settled = settle(read_shown([0, 0, 1, 1, 1], [0, 30, 60, 90, 120], 1.0), gas_on_s=0.0)
        assert settled.value == 1.0
        assert math.isnan(settled.t90_s)

    def test_a_level_outside_0_to_1_is_refused(self, response):
        with pytest.raises(ReadingsError, match="level is 95"):
            settle(response.looks(), level=95)

    def test_no_looks_are_refused(self):
        with pytest.raises(NoReadingsError, match="no looks"):
            settle(Looks(None, np.array([]), (), 1.0))


@given(st.sampled_from([0.1, 3.0, 1000.0]), st.integers(0, 5))
def test_another_unit_gives_the_same_answer_in_that_unit(factor, seed):
    times = np.arange(0.0, 121.0)
    generator = np.random.default_rng(seed)
    since = np.maximum(times - 5, 0)
    shown = np.round(450 * (1 - 0.92 * np.exp(-since / 12) - 0.08 * np.exp(-since / 75)) + generator.normal(0, 1, 121))
    one = settle(read_shown(shown, times, 1.0), gas_on_s=0.0)
    other = settle(read_shown(shown * factor, times, factor), gas_on_s=0.0)
    assert other.value == pytest.approx(factor * one.value, rel=1e-6)
    assert other.u == pytest.approx(factor * one.u, rel=1e-3)
    assert other.t90_s == pytest.approx(one.t90_s, rel=1e-6)


def test_a_level_asked_for_sets_the_width(response):
    narrow, wide = (settle(response.looks(), gas_on_s=0.0, level=level) for level in (0.68, 0.997))
    assert wide.low < narrow.low < narrow.high < wide.high
    assert narrow.u == wide.u


def test_samples_of_a_trace_without_a_step_are_none():
    assert samples_of(read_shown(np.full(30, 5.0), np.arange(30.0), 1.0), 0.0) is None
    with pytest.raises(TimesError, match="needs times"):
        samples_of(read_shown([1, 2]), 0.0)
