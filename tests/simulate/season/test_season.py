"""The generator of a season."""

import numpy as np
import pytest

from flueproof.simulate.season.people import DAY, PLACES, minutes_of
from flueproof.simulate.season.season import CUT_OFF, DAYS, PEAK_DAY, history, rise, season
from flueproof.simulate.season.work import FOUND, KINDS, SERVICES, SHARES, expected_minutes


def test_the_same_seed_gives_the_same_season():
    assert season(3, 0.85) == season(3, 0.85)
    assert season(3, 0.85) != season(4, 0.85)


def test_people_do_not_depend_on_the_load():
    assert season(3, 0.85).staff == season(3, 1.2).staff


@pytest.mark.parametrize("load", [0.85, 1.05, 1.2])
def test_the_minutes_that_come_at_the_peak_are_the_load_times_those_that_people_are_there(load):
    ratios = []
    for seed in range(10):
        drawn = season(seed, load)
        near = [each for each in drawn.arrivals if abs(each.day - PEAK_DAY) <= 10]
        minutes = sum(step.hands_on for each in near for step in each.steps)
        ratios.append(minutes / (21 * drawn.capacity))
    mean_rise = np.mean([rise(PEAK_DAY + offset) for offset in range(-10, 11)])
    assert np.mean(ratios) == pytest.approx(load * mean_rise, rel=0.06)


def test_mean_minutes_of_a_job_are_those_computed():
    minutes = [sum(step.hands_on for step in each.steps) for each in history(1, 1500)]
    assert np.mean(minutes) == pytest.approx(expected_minutes(), rel=0.03)


def test_services_and_promises_come_as_often_as_said():
    drawn = history(2, 1500)
    for service, share in SHARES.items():
        assert np.mean([each.service == service for each in drawn]) == pytest.approx(share, abs=0.04)
    assert {each.promised_days for each in drawn} == {1, 4, 8}


def test_a_box_after_the_cut_off_counts_from_the_next_day():
    for each in season(5, 1.0).arrivals:
        assert each.due_day == each.day + (each.minute > CUT_OFF) + each.promised_days


def test_what_turns_out_shows_after_the_gas_readings_only():
    drawn = season(6, 1.0).arrivals
    turned = [each for each in drawn if each.turned_out]
    assert turned
    for each in turned:
        names = tuple(step.name for step in each.steps)
        assert each.service == "verify"
        assert names == SERVICES["calibrate"]
        assert names[: len(FOUND)] == each.asked[: len(FOUND)]
    for each in drawn:
        assert each.turned_out or tuple(step.name for step in each.steps) == each.asked
        assert each.parts_true >= each.parts_days


def test_every_step_finds_its_station_and_somebody_who_can_do_it():
    drawn = season(7, 1.0)
    skills = {skill for each in drawn.staff for skill in each.skills}
    assert {kind.skill for kind in KINDS.values()} <= skills
    assert {kind.station for kind in KINDS.values()} <= {place.kind for place in PLACES} | {""}
    assert 0 < minutes_of(drawn.staff, DAYS) < len(drawn.staff) * DAY
