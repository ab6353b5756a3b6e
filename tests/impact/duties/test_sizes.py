"""Direction and size in plain words, from what gas has shown."""

import json

import pytest

from flueproof.bench.judge.judge import judge_record
from flueproof.impact.duties.sizes import air_free_size, co_size, o2_size, point_size, sizes_by_channel
from flueproof.impact.found.from_record import errors_as_found
from flueproof.simulate.truth import Truth


def found(bench, truth, **how):
    return errors_as_found(*bench(truth, **how)[:2])


def test_co_20_percent_low_is_said_with_direction_size_and_an_example(bench):
    size = co_size(found(bench, Truth(gain={"co": 0.8})))
    assert (size.channel, size.direction, size.unit) == ("co", "low", "%")
    assert size.value == pytest.approx(-20.0, abs=2.0)
    assert size.low < size.value < size.high
    assert "CO about 20 % too low (between 18 and 22 %)" in size.words or "CO about 20 % too low" in size.words
    assert "A true 100 ppm was shown as 80 ppm." in size.words


def test_co_too_high_is_said_so(bench):
    size = co_size(found(bench, Truth(gain={"co": 1.25})))
    assert size.direction == "high"
    assert "too high" in size.words


def test_a_zero_is_said_beside_the_share(bench):
    words = co_size(found(bench, Truth(gain={"co": 0.8}, zero={"co": -25.0}))).words
    assert "ppm too low" in words


def test_a_dead_cell_is_said_in_words(bench):
    size = co_size(found(bench, Truth(dead=frozenset({"co"}))))
    assert size.direction == "no-reading"
    assert "did not show CO at all" in size.words


def test_a_leak_of_6_percent_shows_in_o2_and_cancels_in_co_air_free(bench):
    errors = found(bench, Truth(dilution_probe=0.06))
    o2, co, air_free = o2_size(errors), co_size(errors), air_free_size(errors)
    assert o2.direction == "high"
    assert o2.value == pytest.approx(0.06 * 15.9, abs=0.1)
    assert co.value == pytest.approx(-6.0, abs=2.5)
    assert air_free.direction == "none"
    assert "came out right within" in air_free.words


def test_an_o2_zero_does_not_cancel(bench):
    air_free = air_free_size(found(bench, Truth(o2_zero_pct=1.5)))
    assert air_free.direction == "high"
    assert air_free.value == pytest.approx(100 * (1 / (1 - 1.5 / 20.9) - 1), abs=2.5)


def test_a_right_unit_is_right_within_its_doubt(bench):
    sizes = sizes_by_channel(found(bench, Truth()))
    assert set(sizes) == {"co", "o2"}
    assert "right within" in sizes["co"].words
    assert sizes["o2"].direction == "none"


@pytest.mark.parametrize(("units", "sign", "number"), [("us", "°F", "391.5"), ("si", "°C", "199.7")])
def test_a_temperature_is_said_in_the_owners_units(bench, units, sign, number):
    record, profile, _ = bench(Truth(probe_emf_error=0.06))
    point = next(one for one in judge_record(record, profile).points if one.channel == "stack")
    words = point_size(point, units).words
    assert "too high" in words
    assert sign in words
    assert number in words


def test_a_sensor_that_is_missing_gave_no_reading(bench):
    record, profile, _ = bench(Truth(missing=frozenset({"air"})))
    point = next(one for one in judge_record(record, profile).points if one.channel == "air")
    size = point_size(point, "us")
    assert size.direction == "no-reading"
    json.dumps(size.as_dict(), allow_nan=False)
