"""One phase judged, before its verdict: limits of the owner, what fits together, room air as a zero."""

import dataclasses

import pytest

from flueproof.bench.bundle import EMPTY_BUNDLE
from flueproof.bench.judge.gathering import gather
from flueproof.bench.judge.phases import _zeros, judge_phase, with_owner_limits
from flueproof.bench.judge.validity import validity_of
from flueproof.metrology.conformity import decision_rule
from flueproof.simulate.physics.sensing import Room

CO = "cyl-co-500"


@pytest.fixture(name="phase")
def _phase(read):
    def judged(visit, name="as-found", **more):
        record, profile = read(visit)
        profile = with_owner_limits(record, profile)
        measured, validity = gather(record, profile, EMPTY_BUNDLE), validity_of(record, profile)
        rule = decision_rule("simple")
        return judge_phase(name, record, profile, measured, validity, rule, EMPTY_BUNDLE, **{"no_probe": False} | more)

    return judged


def test_each_phase_holds_its_own_readings_only(start, phase):
    visit = start()
    visit.test_gas(CO, "tip")
    visit.part("probe hose", visit.truth)
    visit.as_left()
    visit.test_gas("can-co-100", "tip")
    assert {point.step for point in phase(visit).points} == {"s3"}
    assert {point.step for point in phase(visit, "as-left").points} == {"s5"}


def test_an_unfit_application_is_never_averaged_with_a_fit_one(start, phase):
    visit = start()
    visit.test_gas(CO, "tip", supply_l_min=0.3)
    visit.test_gas(CO, "tip")
    points = [point for point in phase(visit).points if point.channel == "co"]
    assert [(point.steps, point.counts) for point in points] == [(("s3",), False), (("s4",), True)]
    assert points[1].settled > 2 * points[0].settled


def test_an_unfit_application_says_nothing_of_the_path(start, phase):
    visit = start()
    visit.test_gas(CO, "tip", supply_l_min=0.3)
    assert phase(visit).path.products is None


def test_limits_of_the_profile_stay_where_the_owner_sets_none(start, read):
    record, profile = read(start())
    assert with_owner_limits(record, profile) is profile


def test_the_owners_limits_leave_the_rest_of_the_profile_as_it_is(start, read):
    record, profile = read(start(order={"limits": {"co": {"percent": 5.0, "of": "reference"}}}))
    changed = with_owner_limits(record, profile)
    assert changed.channels["co"].limit_at(500.0, "as-found").value == pytest.approx(25.0)
    assert changed.channels["o2"] == profile.channels["o2"]
    assert dataclasses.replace(changed, channels=profile.channels) == profile


@pytest.mark.parametrize("co_ppm", [0.0, 9.0, 40.0])
def test_co_in_the_room_is_known_to_the_path_as_a_zero(start, phase, co_ppm):
    visit = start(room=Room(co_ppm=co_ppm))
    visit.test_gas(CO, "tip")
    products = phase(visit).path.products
    assert products.value("co", "zero") == pytest.approx(-co_ppm)
    assert products.u("co", "zero") == pytest.approx(1.0)


def test_without_a_room_log_the_zero_is_hardly_known(start, phase):
    visit = start()
    visit.test_gas(CO, "tip")
    visit.steps.pop(0)
    assert phase(visit).path.products.u("co", "zero") == pytest.approx(3.0)


def test_each_phase_takes_the_room_in_which_it_was_last_zeroed(start, phase):
    """CO in the morning's room, clean air at noon: only the morning's zero is off."""
    visit = start(room=Room(co_ppm=20.0))
    visit.test_gas(CO, "tip")
    visit.part("probe hose", visit.truth)
    visit.room_air = Room(co_ppm=0.0)
    visit.room()
    visit.zeroing()
    visit.as_left()
    visit.test_gas(CO, "tip")
    assert phase(visit).path.products.value("co", "zero") == pytest.approx(-20.0)
    assert phase(visit, "as-left").path.products.value("co", "zero") == pytest.approx(0.0)


def test_a_channel_that_is_not_zeroed_in_air_takes_no_zero_from_the_room(start, read):
    record, profile = read(start(room=Room(co_ppm=20.0)))
    channels = {**profile.channels, "co": dataclasses.replace(profile.channels["co"], zeroed_in_air=False)}
    zeros = _zeros("as-found", record, dataclasses.replace(profile, channels=channels))
    assert [(zero.value, zero.u) for zero in zeros if zero.channel == "co"] == [(0.0, 3.0)]
