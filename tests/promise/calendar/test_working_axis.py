"""The axis of working minutes agrees with the walk over the days."""

from datetime import UTC, date, datetime, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.promise.calendar.errors import OutsideCalendarError
from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.calendar.working_axis import WorkingAxis
from flueproof.promise.calendar.working_time import minutes_between, moment_after, next_open_moment

NIGHTS = ShopCalendar(opens=time(0), closes=time(23), weekdays=frozenset(range(7)), country="")
SHOP = ShopCalendar()
START = datetime(2026, 10, 30, 14, 20, tzinfo=UTC)
AXES = [WorkingAxis(shop, START, date(2026, 11, 30)) for shop in (SHOP, NIGHTS)]
axes = st.sampled_from(AXES)


@given(axes, st.datetimes(datetime(2026, 10, 30, 15), datetime(2026, 11, 30), timezones=st.just(UTC)))  # noqa: DTZ001
def test_minutes_are_those_of_the_walk(axis, moment):
    assert axis.minute_of(moment) == pytest.approx(minutes_between(axis.calendar, START, moment), abs=1e-4)


@given(axes, st.integers(1, 9000))
def test_ends_are_those_of_the_walk(axis, minute):
    assert axis.end_at(minute) == moment_after(axis.calendar, START, minute)


@given(axes, st.integers(0, 9000))
def test_a_beginning_is_an_open_moment_on_the_same_minute(axis, minute):
    begins = axis.begin_at(minute)
    assert next_open_moment(axis.calendar, begins) == begins
    assert axis.minute_of(begins) == pytest.approx(minute)


def test_before_and_after_the_axis():
    axis = AXES[0]
    assert axis.minute_of(datetime(2026, 10, 29, tzinfo=UTC)) == 0
    assert axis.minute_of(datetime(2026, 12, 29, tzinfo=UTC)) == axis.length
    with pytest.raises(OutsideCalendarError, match="not on this axis"):
        axis.begin_at(axis.length)
    with pytest.raises(OutsideCalendarError, match="no working time"):
        WorkingAxis(SHOP, START, date(2026, 10, 29))


def test_an_axis_that_starts_after_closing_begins_at_the_next_opening():
    axis = WorkingAxis(SHOP, datetime(2026, 10, 30, 22, tzinfo=UTC), date(2026, 11, 3))
    assert axis.begin_at(0) == SHOP.opening_moment(date(2026, 11, 2))
    assert axis.length == 2 * 540
