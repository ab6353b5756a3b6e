"""The gas path of one phase: what is observed, what that leaves of gain and zero, what is printed."""

import dataclasses
import datetime as dt
import math

import pytest

from flueproof.analyzer.gas_path.observation import ZeroKnowledge
from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.bundle import EMPTY_BUNDLE
from flueproof.bench.judge.measured import Measured, ReferenceValue
from flueproof.bench.judge.path import cells_json, feed_key, gas_path_json, gas_path_of, observations_of
from flueproof.readings.settled import SettledValue

PROFILE = shipped_profile("two-cell-residential")
AT = dt.datetime(2026, 11, 3, tzinfo=dt.UTC)
GAS = ReferenceValue(502.0, 2.5, math.inf, "normal", "cyl-co-500", "house")
O2_FREE = ReferenceValue(0.0, 0.006, math.inf, "rectangular", "cyl-co-500", "house", implied=True)
ZEROS = [ZeroKnowledge("co", 0.0, 1.0)]


def seen(channel, value, *, reference=None, bound=None, feed="tip", **more):
    u = {"o2": 0.02}.get(channel, 0.3)
    settled = SettledValue(value, u, bound=bound, u_settling=u)
    reference = reference or (GAS if channel == "co" else O2_FREE)
    one = Measured(
        "s3", AT, "as-found", "test-gas", channel, "ppm", feed, "owner", None, 1, False, settled, reference, value
    )
    return dataclasses.replace(one, **more)


def observed(*measured, contents=None):
    return observations_of(measured, contents or {}, PROFILE, EMPTY_BUNDLE)


def path_of(*measured, tests=()):
    return gas_path_of("as-found", observed(*measured), tests, ZEROS, PROFILE)


class TestObservations:
    def test_a_reading_becomes_an_observation_with_its_gas(self):
        one = observed(seen("co", 490.0))[0]
        assert (one.gas, one.u_gas, one.shown, one.bottle, one.supplier) == (502.0, 2.5, 490.0, "cyl-co-500", "house")
        assert one.u_repeat == pytest.approx(0.005 * 502.0)
        assert one.set_to is None

    def test_o2_is_set_to_its_value_in_air(self):
        assert observed(seen("o2", 0.3))[0].set_to == 20.9

    def test_a_clamped_zero_on_gas_counts_as_nothing_shown(self):
        assert observed(seen("co", 0.0, bound="below"))[0].shown == 0.0

    def test_a_clamped_zero_on_gas_without_the_component_says_nothing(self):
        empty = dataclasses.replace(GAS, value=0.0, implied=True)
        assert observed(seen("co", 0.0, bound="below", reference=empty)) == []

    def test_a_snapped_o2_counts_as_air_within_the_snap(self):
        one = observed(seen("o2", 20.9, bound="snapped"))[0]
        assert one.shown == 20.9
        assert one.u_shown >= 0.2 / math.sqrt(3.0)

    @pytest.mark.parametrize("bound", ["above", "absent"])
    def test_a_display_above_its_range_or_dark_is_no_observation(self, bound):
        assert observed(seen("co", math.nan, bound=bound)) == []

    def test_room_air_and_other_sensors_are_none(self):
        assert observed(seen("o2", 20.9, kind="ambient-air"), seen("stack", 200.0)) == []

    def test_other_gases_are_kept_only_where_the_channel_may_see_them(self):
        one = observed(seen("co", 490.0), contents={"s3": {"co": 502.0, "no": 250.0, "so2": 10.0}})[0]
        assert dict(one.others) == {"no": 250.0}


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({}, "tip"),
        ({"feed": "instrument"}, "instrument"),
        ({"feed": None}, "instrument"),
        ({"feed": "instrument", "pinched": True}, "instrument-pinched"),
        ({"probe": "shop"}, "tip-shop-probe"),
        ({"probe": "shop", "feed": "instrument"}, "instrument"),
        ({"kind": "swap-test"}, "tip-on-control"),
        ({"kind": "swap-test", "probe": "shop"}, "tip-shop-probe"),
    ],
)
def test_a_foreign_probe_and_a_pinched_inlet_are_places_of_their_own(change, key):
    assert feed_key(seen("co", 490.0, **change)) == key


class TestCells:
    def test_behind_a_tight_path_the_gain_is_stated(self):
        cell = path_of(seen("co", 0.9 * 502.0), seen("o2", 0.02)).cells["co"]
        assert cell.gain == pytest.approx(0.9, abs=0.01)
        assert cell.gain_low < 0.9 < cell.gain_high

    def test_where_gas_cannot_tell_neither_gain_nor_zero_is_stated(self):
        """O2 at 1.05 on O2-free gas: 5 % air behind the inlet, or a zero error of 1.05 % O2."""
        path = path_of(
            *(seen(*one, feed=feed) for feed in ("tip", "instrument") for one in (("co", 450.0), ("o2", 1.05)))
        )
        co, o2 = path.cells["co"], path.cells["o2"]
        assert path.finding.leak == "cannot-tell"
        assert (co.gain, o2.zero) == (None, None)
        assert co.gain_low < 450.0 / 502.0 < 450.0 / 502.0 / 0.95 < co.gain_high
        body = cells_json(path)
        assert body["co"]["gain"] is None
        assert body["co"]["gain_low"] == co.gain_low

    def test_the_gain_is_taken_straight_at_the_instrument_where_gas_was_fed(self):
        path = path_of(
            seen("co", 440.0),
            seen("o2", 1.5),
            seen("co", 480.0, feed="instrument"),
            seen("o2", 0.02, feed="instrument"),
        )
        assert path.cells["co"].gain == pytest.approx(480.0 / 502.0, abs=0.01)

    def test_without_gas_there_is_no_cell(self):
        assert path_of().cells == {}
        assert cells_json(path_of()) == {}


class TestPrinted:
    def test_products_dilution_and_leak_stand_where_format_1_has_them(self):
        body = gas_path_json(path_of(seen("co", 490.0), seen("o2", 0.02)), 0.01)
        assert set(body["p_o2"]["tip"]) == {"value", "u"}
        assert set(body["dilution"]["tip"]) >= {"value", "low", "high"}
        assert body["leak"] == "none"

    def test_a_dilution_that_cannot_be_told_has_ends_but_no_value(self):
        path = path_of(
            *(seen(*one, feed=feed) for feed in ("tip", "instrument") for one in (("co", 450.0), ("o2", 1.05)))
        )
        inside = gas_path_json(path, 0.01)["dilution"]["instrument"]
        assert inside["value"] is None
        assert inside["low"] == 0.0
        assert inside["high"] > 0.05

    def test_every_interval_lies_between_nothing_and_all(self):
        for o2 in (0.0, 0.2, 1.0, 5.0, 19.0):
            for said in gas_path_json(path_of(seen("o2", o2), seen("co", 400.0)), 0.01)["dilution"].values():
                assert 0.0 <= said["low"] <= said["high"] <= 1.0
