import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.simulate.physics.sensing import (
    Room,
    air_shown,
    draft_shown,
    drawn_room,
    gas_shown,
    o2_shown,
    stack_shown,
)
from flueproof.simulate.truth import Truth

ROOM = Room(22.0, 45.0, 1010.0)
shares = st.floats(0.0, 0.3)
zeros = st.floats(0.0, 2.0)


class TestOxygen:
    """bench-record.md, "What the unit's own zeroing hides" (own derivation)."""

    @given(zeros, shares, st.floats(0.0, 20.9))
    def test_display_is_the_stated_product_of_zero_error_and_dilution(self, zero, share, gas):
        expected = 20.9 - (1.0 - zero / 20.9) * (1.0 - share) * (20.9 - gas)
        assert o2_shown(Truth(o2_zero_pct=zero), gas, share, ROOM) == pytest.approx(expected, abs=1e-9)

    @given(zeros, shares)
    def test_room_air_reads_20_9_whatever_is_wrong(self, zero, share):
        assert o2_shown(Truth(o2_zero_pct=zero, o2_saturation_pct=60.0), 20.9, share, ROOM) == pytest.approx(20.9)

    @given(st.floats(0.0, 0.2), st.floats(0.0, 20.9))
    def test_a_leak_and_a_zero_error_of_the_same_product_look_alike_on_every_gas(self, share, gas):
        leak = o2_shown(Truth(), gas, share, ROOM)
        zero = o2_shown(Truth(o2_zero_pct=20.9 * share), gas, 0.0, ROOM)
        assert leak == pytest.approx(zero, abs=1e-9)

    @given(zeros, st.floats(0.0, 20.9))
    def test_zero_error_shows_as_its_share_at_other_contents(self, zero, gas):
        shown = o2_shown(Truth(o2_zero_pct=zero), gas, 0.0, ROOM)
        assert shown - gas == pytest.approx(zero * (1.0 - gas / 20.9), abs=1e-9)

    def test_five_per_cent_leak_on_five_per_cent_gas_reads_5_80(self):
        # Team's reference sheet on flue gas, section 5, leak dilution: printed 5.80.
        assert o2_shown(Truth(), 5.0, 0.05, ROOM) == pytest.approx(5.80, abs=0.006)

    def test_set_in_damp_air_a_dry_5_per_cent_gas_reads_5_08(self):
        # Team's sheet on the trade, 1.3 (calc): zeroed at 25 degC and 60 % RH, the cell sees the water. The sheet sets
        # 20.9 against damp air, we 20.946: 0.01 % O2 apart at 5 %.
        damp = Room(25.0, 60.0, 1013.25)
        assert o2_shown(Truth(humid_air_seen=1.0), 5.0, 0.0, damp) == pytest.approx(5.08, abs=0.02)
        assert o2_shown(Truth(humid_air_seen=0.0), 5.0, 0.0, damp) == pytest.approx(5.0)

    def test_a_saturating_cell_is_right_at_both_ends_and_high_between(self):
        truth = Truth(o2_saturation_pct=80.0)
        assert o2_shown(truth, 0.0, 0.0, ROOM) == 0.0
        assert o2_shown(truth, 10.0, 0.0, ROOM) > 10.5

    def test_a_spent_cell_cannot_be_set_to_20_9(self):
        truth = Truth(o2_output=0.45, o2_lowest_output=0.6)
        assert o2_shown(truth, 20.9, 0.0, ROOM) == pytest.approx(20.9 * 0.75)


class TestOtherGases:
    """bench-record.md, "What the unit's own zeroing hides" (own derivation)."""

    @given(st.floats(0.3, 1.2), shares, st.floats(0.0, 2000.0))
    def test_without_co_in_the_room_co_shows_gain_times_what_is_left(self, gain, share, gas):
        shown = gas_shown(Truth(gain={"co": gain}), "co", {"co": gas}, share, ROOM, zeroed_in_co_ppm=0.0)
        assert shown == pytest.approx(gain * (1.0 - share) * gas)

    @given(st.floats(0.0, 40.0), shares)
    def test_a_zero_taken_in_co_is_missing_in_ppm_on_every_gas(self, room_co, share):
        room = Room(22.0, 45.0, 1010.0, room_co)
        for gas in (100.0, 500.0):
            shown = gas_shown(Truth(), "co", {"co": gas}, share, room, zeroed_in_co_ppm=room_co)
            assert shown == pytest.approx((1.0 - share) * (gas - room_co), abs=1e-9)

    def test_no_reads_as_co_when_the_filter_is_spent(self):
        truth = Truth(no_on_co=0.25)
        assert gas_shown(truth, "co", {"no": 200.0}, 0.1, ROOM, zeroed_in_co_ppm=0.0) == pytest.approx(45.0)
        assert gas_shown(Truth(), "co", {"no": 200.0}, 0.0, ROOM, zeroed_in_co_ppm=0.0) == 0.0

    def test_a_dead_cell_shows_nothing_of_no_either(self):
        truth = Truth(dead=frozenset({"co"}), no_on_co=0.25)
        assert gas_shown(truth, "co", {"co": 500.0, "no": 200.0}, 0.0, ROOM, zeroed_in_co_ppm=0.0) == 0.0

    def test_the_high_range_measures_the_same_gas(self):
        truth = Truth(gain={"co_high": 0.9})
        assert gas_shown(truth, "co_high", {"co": 1e4}, 0.0, ROOM, zeroed_in_co_ppm=0.0) == pytest.approx(9000.0)

    def test_a_unit_that_does_not_zero_itself_sees_the_room(self):
        room = Room(co_ppm=12.0)
        assert gas_shown(Truth(), "co", {"co": 12.0}, 0.0, room, zeroed_in_co_ppm=None) == pytest.approx(12.0)


class TestSensors:
    """Team's reference sheet on flue gas, section 7."""

    @given(st.floats(30.0, 500.0))
    def test_a_right_probe_on_a_right_meter_is_right(self, stack_c):
        assert stack_shown(Truth(), stack_c, ROOM, of="probe") == pytest.approx(stack_c, abs=1e-3)

    def test_a_cold_junction_1_k_wrong_shifts_200_degc_by_1_01_to_1_03_k(self):
        shown = stack_shown(Truth(cold_junction_error_k=1.0), 200.0, Room(air_c=25.0), of="probe")
        assert 1.005 <= shown - 200.0 <= 1.035

    def test_the_socket_tells_the_meter_from_the_probe(self):
        truth = Truth(probe_emf_error=-0.05)
        assert stack_shown(truth, 200.0, ROOM, of="socket") == pytest.approx(200.0, abs=1e-3)
        assert stack_shown(truth, 200.0, ROOM, of="probe") == pytest.approx(191.0, abs=0.5)

    def test_a_missing_air_sensor_shows_no_number(self):
        assert math.isnan(air_shown(Truth(missing=frozenset({"air"})), 22.0))
        assert air_shown(Truth(air_sensor_error_k=-1.5), 22.0) == 20.5

    def test_draft_has_a_gain_and_a_zero(self):
        assert draft_shown(Truth(draft_gain=0.8, draft_zero_pa=1.0), -25.0) == pytest.approx(-19.0)


def test_a_drawn_room_is_an_ordinary_one_and_the_same_for_the_same_seed():
    room = drawn_room(np.random.default_rng(3), co_ppm=5.0)
    assert room == drawn_room(np.random.default_rng(3), co_ppm=5.0)
    assert 19.0 <= room.air_c <= 25.0
    assert room.co_ppm == 5.0
