"""Both ends and a linear growth, always together."""

import datetime as dt

import numpy as np
import pytest

from flueproof.impact.correcting.over_time import COURSE_WORDS, COURSES, ErrorHistory, correct_over_time
from flueproof.impact.correcting.readings import field_readings
from flueproof.impact.errors import FieldReadingError

FOUND, GOOD = dt.date(2026, 11, 3), dt.date(2025, 11, 3)
DAYS = np.array(["2025-11-03", "2026-05-04", "2026-11-03", "2025-01-01", "2026-12-01", "NaT"], dtype="datetime64[D]")
FIVE = field_readings(o2_pct=np.full(6, 5.0), co_ppm=np.full(6, 80.0))


def worked(known, gas, good=GOOD, **start):
    history = ErrorHistory(known(co_slope=0.8), known(**start), FOUND, good)
    return correct_over_time(FIVE, DAYS, history, gas)


def test_the_three_courses_stand_side_by_side(known, gas):
    done = worked(known, gas)
    assert tuple(done.courses()) == COURSES == tuple(COURSE_WORDS)
    assert done.full["co_ppm"].value == pytest.approx(100.0)
    assert done.not_yet["co_ppm"].value == pytest.approx(80.0)
    assert done.growing["co_ppm"].value[:3] == pytest.approx([80.0, 80.0 / 0.9, 100.0], rel=0.002)


def test_a_reading_without_a_day_counts_as_one_of_the_last_day(known, gas):
    done = worked(known, gas)
    assert done.share[5] == 1.0
    assert done.concerned[5]


def test_readings_before_the_last_good_date_or_after_the_finding_are_not_concerned(known, gas):
    assert worked(known, gas).concerned.tolist() == [True, True, True, False, False, True]


def test_without_a_last_good_date_no_growth_is_made_up(known, gas):
    done = worked(known, gas, good=None)
    assert done.growing is None
    assert done.concerned.tolist() == [True, True, True, True, False, True]
    assert set(done.courses()) == {"full", "not_yet"}


def test_a_measured_start_is_where_the_growth_begins(known, gas):
    done = worked(known, gas, co_slope=1.1)
    assert done.not_yet["co_ppm"].value[0] == pytest.approx(80.0 / 1.1)
    assert done.growing["co_ppm"].value[0] == pytest.approx(80.0 / 1.1)


def test_the_growth_lies_between_the_ends(known, gas):
    done = worked(known, gas)
    growing = done.growing["co_ppm"].value
    assert np.all(growing <= done.full["co_ppm"].value + 1e-9)
    assert np.all(growing >= done.not_yet["co_ppm"].value - 1e-9)


def test_good_and_found_on_one_day_is_no_division_by_nothing(known, gas):
    done = worked(known, gas, good=FOUND)
    assert np.isfinite(done.share).all()


def test_dates_the_wrong_way_round_are_refused(known):
    with pytest.raises(FieldReadingError, match="lies after"):
        ErrorHistory(known(), known(), GOOD, FOUND)


def test_a_day_for_each_reading_is_asked_for(known, gas):
    history = ErrorHistory(known(), known(), FOUND, GOOD)
    with pytest.raises(FieldReadingError, match="one day per reading"):
        correct_over_time(FIVE, DAYS[:2], history, gas)
