"""Profiles from TOML: what ships, and what is refused."""

import hashlib
import pickle
from importlib import resources

import pytest

from flueproof.analyzer.errors import ProfileError
from flueproof.analyzer.limit import PHASES
from flueproof.analyzer.profile_reader import read_profile, shipped_profile, shipped_profile_names

TWO_CELL = resources.files("flueproof.analyzer").joinpath("data/profiles/two-cell-residential.toml").read_bytes()


def refused(old, new):
    text = TWO_CELL.decode()
    assert old in text
    with pytest.raises(ProfileError) as caught:
        read_profile(text.replace(old, new, 1).encode(), where="shop.toml")
    assert caught.value.where == "shop.toml"
    assert caught.value.remedy
    return caught.value


def test_four_profiles_ship():
    assert shipped_profile_names() == (
        "hydrogen-compensated-co",
        "infrared-co2-co-high-range",
        "three-cell-light-commercial",
        "two-cell-residential",
    )


@pytest.mark.parametrize("name", shipped_profile_names())
class TestShipped:
    def test_every_limit_holds_over_its_channel_in_both_phases(self, name):
        for channel in shipped_profile(name).channels.values():
            for phase in PHASES:
                for share in (0.0, 0.25, 0.5, 0.75, 1.0):
                    limit = channel.limit_at(channel.low + share * (channel.high - channel.low), phase)
                    assert limit.value > 0.0
                    assert limit.source

    def test_every_point_asks_for_a_reference_that_has_a_limit(self, name):
        profile = shipped_profile(name)
        for point in profile.points:
            if point.channel and point.kind != "cross":
                assert profile.channels[point.channel].limit_at(point.high, "as-left").value > 0.0

    def test_co_and_o2_through_the_tip_stack_draft_and_a_path_test_are_required(self, name):
        required = {point.id: point for point in shipped_profile(name).required_points()}
        assert {"co-mid", "o2-zero", "stack-hot", "draft-one", "path-tight"} <= set(required)
        assert required["co-mid"].feed == required["o2-zero"].feed == "tip"
        assert required["co-mid"].balance == ("nitrogen",)

    def test_three_concentrations_are_required_where_linearity_is_claimed_and_only_there(self, name):
        profile = shipped_profile(name)
        for channel in profile.channels.values():
            gases = [p for p in profile.required_points() if p.kind == "test-gas" and p.channel == channel.name]
            assert len(gases) >= 3 if channel.linear_claimed else len(gases) <= 1

    def test_a_self_zeroing_channel_says_what_it_is_set_to(self, name):
        for channel in shipped_profile(name).channels.values():
            assert not channel.zeroed_in_air or channel.set_to is not None

    def test_adjustments_and_cells_belong_to_channels(self, name):
        profile = shipped_profile(name)
        assert set(profile.adjust) <= set(profile.channels)
        assert set(profile.cells) <= set(profile.channels)
        for cell in profile.cells.values():
            assert cell.end_gain <= cell.gain_low <= 1.0

    def test_it_travels_to_another_process(self, name):
        assert pickle.loads(pickle.dumps(shipped_profile(name))) == shipped_profile(name)  # noqa: S301


def test_the_hash_is_of_the_bytes():
    assert read_profile(TWO_CELL).sha256 == hashlib.sha256(TWO_CELL).hexdigest()
    assert read_profile(TWO_CELL + b"\n").sha256 != read_profile(TWO_CELL).sha256


def test_a_profile_is_read_from_a_path(tmp_path):
    path = tmp_path / "own.toml"
    path.write_bytes(TWO_CELL)
    assert read_profile(path).name == "two-cell-residential"


@pytest.mark.parametrize(
    ("old", "new", "key", "message"),
    [
        ('format = "flueproof-profile/1"', 'format = "other/1"', "format", "allowed is one of"),
        ('name = "two-cell-residential"', "", "name", "is missing"),
        ("warm_up_s = 120", 'warm_up_s = "two minutes"', "warm_up_s", "'two minutes', allowed is a number"),
        ("warm_up_s = 120", "warm_up_s = nan", "warm_up_s", "is nan"),
        ("hold_s = 120", "hold_s = true", "hold_s", "is True"),
        ("hold_s = 120", "hold_s = -1", "hold_s", "from 1 to 3600"),
        ("purge_s = 60", "purge_s = 60\npruge_s = 6", "pruge_s", "is not a key of this table"),
        ("interval_months = 12", "interval_months = 12.5", "interval_months", "whole number"),
        ("typical = 0.9", "typical = 1.9", "pump_flow_l_min.typical", "not between"),
        ('when = ["switch-on", "on-request"]', 'when = ["sometimes"]', "zeroing.when", "list of"),
        ('unit = "%"', 'unit = "vol-%"', "channels.o2.unit", "'vol-%', allowed is one of: %, ppm"),
        ("high = 21.0", "high = -1.0", "channels.o2.high", "not above low"),
        ("set_to = 20.9\n", "", "channels.o2.set_to", "is missing"),
        ("zeroed_in_air = true", "zeroed_in_air = 1", "channels.o2.zeroed_in_air", "true or false"),
        ("to = 1.0", "to = 0.5", "channels.o2.limits", "no line covers 0.5 as-found"),
        ("absolute = 0.3\n", "", "channels.o2.limits[0].absolute", "both missing"),
        ("absolute = 0.3\n", "absolute = -0.3\n", "channels.o2.limits[0].absolute", "from 0 to inf"),
        ('combine = "larger"', 'combine = "only"', "channels.co.limits[0].combine", "both `absolute` and `percent`"),
        ('of = "reference"', 'of = "span"', "channels.co.limits[0].of", "full-scale"),
        ('source = "OIML R 144-1:2013, 4.3.2"', "", "channels.co.limits[0].source", "is missing"),
        ("[channels.co.cross.no]", "[channels.co.cross.argon]", "channels.co.cross.argon", "is no gas"),
        ('id = "o2-zero"', 'id = "co-mid"', "points[1].id", "used twice"),
        ('channel = "co"\nlow = 80', 'channel = "nox"\nlow = 80', "points[0].channel", "allowed is one of"),
        ("low = 80\nhigh = 600", "low = 600\nhigh = 80", "points[0].high", "not above low"),
        ("low = 80\nhigh = 600", "low = 80\nhigh = 60000", "points[0].low", "leave the channel's"),
        ("[adjust.co]", "[adjust.nox]", "adjust.nox", "is no channel"),
        ('can = ["span"]', 'can = "span"', "adjust.co.can", "list of"),
        ("end_gain = 0.60", "end_gain = 0", "cells.o2.end_gain", "from 0.01 to 1"),
    ],
)
def test_a_broken_profile_is_refused_with_the_key(old, new, key, message):
    error = refused(old, new)
    assert error.key == key
    assert message in error.message


def test_what_is_no_toml_is_refused():
    for data, message in (
        (b"\xff\xfe", "not UTF-8"),
        (b"name = ", "not TOML"),
        (b"#" * 1_000_001, "longer than the 1000000 bytes"),
    ):
        with pytest.raises(ProfileError, match=message):
            read_profile(data)


def test_an_unknown_name_lists_the_known_ones():
    with pytest.raises(ProfileError, match="two-cell-residential"):
        shipped_profile("four-cell")
