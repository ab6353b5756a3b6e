"""Times in any of the usual forms."""

import math

import pytest

from flueproof.readings.errors import TraceFileError
from flueproof.readings.importing.times import elapsed_s, seconds_of


@pytest.mark.parametrize(
    ("text", "seconds"), [("12.5", 12.5), ("1:02:03", 3723), ("02:03", 123), ("12:00:00 AM", 0), ("-0:05", -5)]
)
def test_texts_become_seconds(text, seconds):
    assert seconds_of(text, None, ".") == seconds


@pytest.mark.parametrize("text", ["", "abc", "31.31.2026 10:00", "10:00:99x", "2026-02-30"])
def test_other_texts_are_no_time(text):
    assert math.isnan(seconds_of(text, None, "."))


def test_hours_and_minutes_when_the_column_says_so():
    assert seconds_of("1:30", "hh:mm", ".") == 5400


def test_a_clock_goes_on_after_midnight():
    assert elapsed_s([86_399.0, 1.0, 2.0], [2, 3, 4], "time", clock=True) == [0.0, 2.0, 3.0]


def test_elapsed_times_must_not_run_backwards():
    with pytest.raises(TraceFileError, match="row 3, column time"):
        elapsed_s([86_399.0, 1.0], [2, 3], "time", clock=False)
