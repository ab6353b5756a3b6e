"""One bottle on the control analyzer."""

import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.shop.records.gas.control import LooksError, channels_for, control_line, read_looks
from shop.cylinders import gas_content, make_control_unit, make_cylinder, make_instrument

PROFILE = shipped_profile("two-cell-residential")


@pytest.fixture
def unit(owner):
    return make_control_unit(owner)


def names(reference):
    return [channel.name for channel in channels_for(reference, PROFILE)]


def test_a_bottle_of_co_in_nitrogen_is_read_on_co_and_its_missing_oxygen_shows_a_leak(db):
    assert names(make_cylinder("C1")) == ["o2", "co"]


def test_a_bottle_in_air_is_read_on_what_its_certificate_names(db):
    assert names(make_cylinder("C1", content=gas_content(balance="air"))) == ["co"]
    assert names(make_instrument()) == []


def test_a_value_out_of_the_units_range_is_not_read(db):
    high = {"co": {"unit": "ppm", "value": 4000.0, "expanded_uncertainty": 40.0, "k": 2.0}}
    assert names(make_cylinder("C1", content=gas_content(components=high))) == ["o2"]


def test_looks_are_numbers_or_text_as_shown():
    assert read_looks("498  499; OVER") == [498.0, 499.0, "OVER"]


@pytest.mark.parametrize("typed", ["", "  ", "nan", "1e999"])
def test_no_look_is_told(typed):
    with pytest.raises(LooksError):
        read_looks(typed)


def test_error_uncertainty_limit_and_factor_come_from_the_core(unit, now):
    line = control_line(unit, make_cylinder("C1"), PROFILE.channels["co"], [498.0], now)
    assert line.error == pytest.approx(-4.0)
    assert line.limit == pytest.approx(0.05 * 502.0)  # as-left limit of the profile, OIML R 144-1:2013, 4.3.1
    assert line.statement == "conform"
    assert line.span_factor == pytest.approx(502.0 / 498.0)
    assert line.u_certificate / line.span_factor == pytest.approx(2.5 / 502.0)
    assert line.expanded > 5.0
    assert line.as_json()["passed"] is True


def test_a_reading_outside_the_narrow_limit_does_not_conform(unit, now):
    line = control_line(unit, make_cylinder("C1"), PROFILE.channels["co"], [470.0], now)
    assert line.statement == "not-conform"
    assert line.as_json()["passed"] is False


def test_a_display_over_its_range_gives_no_factor(unit, now):
    line = control_line(unit, make_cylinder("C1"), PROFILE.channels["co"], ["OVER"], now)
    assert line.span_factor is None
    assert line.statement != "conform"


def test_a_gas_without_the_component_has_no_factor(unit, now):
    line = control_line(unit, make_cylinder("C1"), PROFILE.channels["o2"], [0.1], now)
    assert line.factor() is None
    assert line.statement == "conform"


def test_a_text_that_no_display_shows_is_refused(unit, now):
    with pytest.raises(LooksError):
        control_line(unit, make_cylinder("C1"), PROFILE.channels["co"], ["x" * 60], now)
