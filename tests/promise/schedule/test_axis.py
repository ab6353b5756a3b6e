"""The axis of the plan against moments."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from flueproof.promise.schedule.axis import NIGHT, axis_from
from flueproof.promise.schedule.model import PlanError

ZONE = ZoneInfo("America/New_York")


def at(day, hour, minute=0, month=11):
    return dt.datetime(2026, month, day, hour, minute, tzinfo=ZONE)


def week(first=23, days=5):
    return [(at(first + day, 8), at(first + day, 17)) for day in range(days)]


def test_minute_0_is_now_and_nights_are_a_short_gap():
    axis = axis_from(week(), at(23, 9))
    assert axis.minute(at(23, 9)) == 0
    assert axis.due(at(23, 17)) == 480
    assert axis.open[:2] == ((0, 480), (480 + NIGHT, 480 + NIGHT + 540))
    assert axis.minute(at(24, 8)) == 480 + NIGHT


def test_before_opening_minute_0_is_the_opening():
    axis = axis_from(week(), at(23, 6))
    assert axis.moment(0) == at(23, 8)
    assert axis.minute(at(23, 8, 30)) == 30


def test_moments_and_minutes_go_there_and_back():
    axis = axis_from(week(), at(23, 10, 15))
    for moment in (at(23, 10, 15), at(23, 16, 59), at(24, 8), at(25, 12, 1), at(27, 17)):
        assert axis.moment(axis.minute(moment)) == moment


def test_a_release_at_night_is_the_next_opening_and_a_promise_the_closing_before():
    axis = axis_from(week(), at(23, 8))
    assert axis.moment(axis.minute(at(23, 22))) == at(24, 8)
    assert axis.moment(axis.due(at(23, 22))) == at(23, 17)
    assert axis.due(at(24, 9)) == axis.minute(at(24, 9))


def test_a_promise_of_the_past_is_below_zero():
    axis = axis_from(week(), at(24, 9))
    assert axis.due(at(23, 17)) < 0
    assert axis.minute(at(24, 8, 30)) == -30


def test_a_day_on_which_the_clock_changes_has_its_true_length():
    night_shift = [(dt.datetime(2026, 11, 1, 0, tzinfo=ZONE), dt.datetime(2026, 11, 1, 8, tzinfo=ZONE))]
    axis = axis_from(night_shift, night_shift[0][0])
    assert axis.open == ((0, 9 * 60),)


def test_hours_of_a_person_are_cut_to_opening_hours():
    axis = axis_from(week(), at(23, 8))
    assert axis.windows([(at(23, 7), at(23, 12)), (at(24, 13), at(24, 20))]) == ((0, 240), (545 + 300, 545 + 540))


def test_hours_without_time_zone_are_refused():
    naive = dt.datetime(2026, 11, 23, 8)  # noqa: DTZ001
    with pytest.raises(PlanError, match="no time zone"):
        axis_from([(naive, naive)], at(23, 8))


def test_no_hours_left_is_told():
    with pytest.raises(PlanError, match="No opening hours are left"):
        axis_from(week(), at(30, 8))
