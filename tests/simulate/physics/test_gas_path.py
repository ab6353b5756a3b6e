import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.simulate.errors import StepError
from flueproof.simulate.physics.gas_path import dilution_at, plugged_pump, vacuum_after, vent_dilution
from flueproof.simulate.truth import FEEDS, Truth

shares = st.floats(0.0, 0.3)


@given(shares, shares)
def test_leaks_in_series_multiply_what_is_kept_of_the_sample(probe, instrument):
    truth = Truth(dilution_probe=probe, dilution_instrument=instrument)
    assert 1.0 - dilution_at(truth, "tip") == pytest.approx((1.0 - probe) * (1.0 - instrument))
    assert dilution_at(truth, "instrument") == pytest.approx(instrument)


@given(shares, shares)
def test_dilution_never_grows_on_the_way_in(probe, instrument):
    truth = Truth(dilution_probe=probe, dilution_instrument=instrument, probe_leak_at="handle")
    along = [dilution_at(truth, feed) for feed in FEEDS]
    assert along == sorted(along, reverse=True)


def test_gas_behind_the_leaking_joint_does_not_see_the_leak():
    truth = Truth(dilution_probe=0.1, probe_leak_at="handle")
    assert dilution_at(truth, "handle") == pytest.approx(0.1)
    assert dilution_at(truth, "hose") == 0.0


def test_the_shop_s_own_probe_is_tight():
    assert dilution_at(Truth(dilution_probe=0.1), "tip", probe="shop") == 0.0


def test_pinching_lets_a_leak_grow_and_leaves_a_tight_path_tight():
    assert dilution_at(Truth(dilution_instrument=0.04), "instrument", pinched=True) == pytest.approx(0.12)
    assert dilution_at(Truth(o2_zero_pct=0.8), "instrument", pinched=True) == 0.0


def test_a_pinched_leak_never_takes_the_whole_flow():
    assert dilution_at(Truth(dilution_instrument=0.9), "instrument", pinched=True) < 1.0


def test_an_unknown_feed_is_refused_with_the_known_ones():
    with pytest.raises(StepError, match="after-trap"):
        dilution_at(Truth(), "nose")


def test_too_little_gas_draws_room_air_through_the_open_vent():
    assert vent_dilution(0.6, 0.9, vent_open=True) == pytest.approx(1.0 / 3.0)
    assert vent_dilution(1.8, 0.9, vent_open=True) == 0.0
    assert vent_dilution(0.6, 0.9, vent_open=False) == 0.0


@pytest.mark.parametrize(
    ("share", "answer"), [(0.0, ("stalls", True)), (0.02, ("slows", True)), (0.1, ("runs-on", False))]
)
def test_a_plugged_pump_hears_gross_leaks_only(share, answer):
    assert plugged_pump(Truth(dilution_probe=share), "tip") == answer


def test_a_leak_in_the_probe_is_not_heard_with_the_plug_at_the_instrument():
    assert plugged_pump(Truth(dilution_probe=0.2), "instrument") == ("stalls", True)


def test_a_pump_that_never_stalls_says_nothing_but_the_hiss_does():
    assert plugged_pump(Truth(pump_stalls=False), "tip") == ("runs-on", True)


def test_vacuum_decays_with_the_time_constant_of_the_balance_of_gas():
    tau_s = 60.0 * 2.0 / (0.01 * 1.2 * 1000.0 / 60.0 * 101.325)  # V p_w / (f Q p_atm), own derivation
    assert vacuum_after(8.0, tau_s, 0.01, 1.2, 60.0) == pytest.approx(8.0 / math.e)
    assert vacuum_after(8.0, 30.0, 0.0, 1.2, 60.0) == 8.0
