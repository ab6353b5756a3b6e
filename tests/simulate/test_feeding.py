import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.simulate.feeding import adjusted, gas_at, gas_channels_of, gas_of_room
from flueproof.simulate.physics.sensing import Room
from flueproof.simulate.truth import Truth

PROFILE = shipped_profile("two-cell-residential")


def test_the_gas_channels_are_those_that_measure_gas():
    assert [one.name for one in gas_channels_of(PROFILE)] == ["o2", "co"]


def test_the_room_is_air_with_its_co():
    assert gas_of_room(Room(co_ppm=12.0)).content["co"] == 12.0


def test_too_small_a_supply_draws_room_air_through_the_open_vent_only():
    truth = Truth(pump_flow_l_min=0.9)
    assert gas_at(truth, {}, "instrument", supply_l_min=0.6).dilution == pytest.approx(1 / 3)
    assert gas_at(truth, {}, "instrument", supply_l_min=0.6, vent_open=False).dilution == 0.0


def test_the_owners_filter_slows_what_is_fed_at_the_tip_only():
    truth = Truth(path_filter_tau_s=9.0)
    assert gas_at(truth, {}, "tip", supply_l_min=1.8).lag_s == 9.0
    assert gas_at(truth, {}, "tip", probe="shop", supply_l_min=1.8).lag_s == 0.0
    assert gas_at(truth, {}, "instrument", supply_l_min=1.8).lag_s == 0.0


def test_an_adjustment_moves_gain_and_span_factor_by_entered_over_shown():
    after = adjusted(Truth(gain={"co": 0.8}), PROFILE, "co", 500.0, 400.0)
    assert after.gain["co"] == pytest.approx(1.0)
    assert after.correction["co"] == pytest.approx(1.25)


@pytest.mark.parametrize(("entered", "shown"), [(500.0, 0.0), (500.0, 100.0), (500.0, 5000.0), (500.0, -3.0)])
def test_an_adjustment_beyond_the_range_is_refused(entered, shown):
    assert adjusted(Truth(), PROFILE, "co", entered, shown) is None


def test_a_channel_without_an_adjustment_refuses():
    assert adjusted(Truth(), PROFILE, "stack", 200.0, 199.0) is None
