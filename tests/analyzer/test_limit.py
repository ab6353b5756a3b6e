"""Limits by range and phase."""

import pytest

from flueproof.analyzer.errors import NoLimitError
from flueproof.analyzer.limit import Limit
from flueproof.analyzer.profile_reader import shipped_profile


def line(absolute=None, percent=None, of="reference", combine="larger"):
    return Limit("any", 0.0, 1000.0, absolute, percent, of, combine, "invented")


def test_the_larger_of_both_counts():
    assert line(5.0, 10.0).value_at(20.0, full_scale=1000.0) == 5.0
    assert line(5.0, 10.0).value_at(200.0, full_scale=1000.0) == pytest.approx(20.0)


def test_a_sum_adds_both():
    assert line(5.0, 10.0, combine="sum").value_at(200.0, full_scale=1000.0) == pytest.approx(25.0)


def test_percent_says_of_what():
    assert line(percent=2.0, combine="only").value_at(100.0, full_scale=1000.0, reading=200.0) == pytest.approx(2.0)
    reading = line(percent=2.0, of="reading", combine="only")
    assert reading.value_at(100.0, full_scale=1000.0, reading=200.0) == pytest.approx(4.0)
    full_scale = line(percent=2.0, of="full-scale", combine="only")
    assert full_scale.value_at(100.0, full_scale=1000.0) == pytest.approx(20.0)


def test_suction_takes_the_size_of_the_reference():
    assert line(percent=5.0, combine="only").value_at(-200.0, full_scale=1000.0) == pytest.approx(10.0)


def test_as_found_and_as_left_differ_for_co():
    co = shipped_profile("two-cell-residential").channels["co"]
    assert co.limit_at(500.0, "as-found").value == pytest.approx(50.0)
    assert co.limit_at(500.0, "as-left").value == pytest.approx(25.0)
    assert co.zero_limit("as-found").value == 5.0
    assert co.limit_at(500.0, "as-found").in_words("ppm") == "larger of 5 ppm or 10 % of reference"


def test_the_oxygen_limit_changes_from_zero_to_span_gas():
    o2 = shipped_profile("two-cell-residential").channels["o2"]
    assert o2.zero_limit("as-found").value == 0.3
    assert o2.limit_at(4.0, "as-left").value == 0.5
    assert "10.1.4" in o2.limit_at(4.0, "as-left").source


def test_a_reference_outside_the_channel_has_no_limit():
    with pytest.raises(NoLimitError, match="runs from 0 to 2000 ppm"):
        shipped_profile("two-cell-residential").channels["co"].limit_at(5000.0, "as-found")
