"""Far values are asked back once (own rule)."""

import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.shop.records.visits.rules.asking_back import far_values, in_shown_unit

CHANNELS = shipped_profile("two-cell-residential").channels


def asked(channel, unit, shown, reference):
    readings = [{"channel": channel, "unit": unit, "step": 1, "shown": shown}]
    return far_values(readings, CHANNELS[channel], reference, "as-found", "502 ppm bottle")


def test_402_on_502_is_asked():
    assert asked("co", "ppm", [0, 402], 502.0) == ["CO: 402 ppm on a 502 ppm bottle: is that what the display shows?"]


@pytest.mark.parametrize("shown", [[490], [0, 460], ["OVER"], ["----"]])
def test_what_is_near_or_no_number_is_not_asked(shown):
    assert asked("co", "ppm", shown, 502.0) == []


def test_another_unit_is_converted_before_it_is_compared():
    assert asked("stack", "degF", [392], 200.0) == []
    assert asked("stack", "degC", [392], 200.0)


def test_a_unit_that_fits_nothing_is_left_to_the_record():
    assert asked("stack", "ppm", [392], 200.0) == []


def test_a_reference_is_said_in_the_unit_of_the_display():
    assert in_shown_unit(200.0, "degF", CHANNELS["stack"]) == "392 degF"
    assert in_shown_unit(502.0, "degF", CHANNELS["co"]) == "502 ppm"
