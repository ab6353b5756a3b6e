"""Working time between moments and after minutes, over closed days and changes of the clock."""

from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.promise.calendar.errors import NaiveMomentError
from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.calendar.working_time import minutes_between, moment_after, moment_before, next_open_moment

SHOP = ShopCalendar(time_zone="America/New_York")
ROUND_THE_CLOCK = ShopCalendar(opens=time(0), closes=time(23), weekdays=frozenset(range(7)), country="")
zones = st.sampled_from([UTC, SHOP.zone])
moments = st.datetimes(datetime(2026, 2, 20), datetime(2026, 12, 20), timezones=zones)  # noqa: DTZ001
shops = st.sampled_from([SHOP, ROUND_THE_CLOCK])
minutes = st.integers(0, 6000)


def at(day, hour, minute=0, month=11):
    return datetime(2026, month, day, hour, minute, tzinfo=SHOP.zone)


def test_a_whole_day_is_nine_hours():
    assert minutes_between(SHOP, at(24, 0), at(25, 0)) == 540


def test_closed_days_and_nights_do_not_count():
    assert minutes_between(SHOP, at(25, 16), at(27, 9)) == 120
    assert minutes_between(SHOP, at(27, 9), at(25, 16)) == -120
    assert minutes_between(SHOP, at(28, 9), at(29, 20)) == 0


def test_work_that_fills_the_day_ends_at_closing_time():
    assert moment_after(SHOP, at(25, 16), 60) == at(25, 17)
    assert moment_after(SHOP, at(25, 16), 61) == at(27, 8, 1)
    assert moment_after(SHOP, at(26, 12), 0) == at(26, 12)


def test_the_latest_start_goes_back_over_the_holiday():
    assert moment_before(SHOP, at(27, 9), 60) == at(27, 8)
    assert moment_before(SHOP, at(27, 9), 61) == at(25, 16, 59)


def test_the_shop_opens_next_on_the_next_business_day():
    assert next_open_moment(SHOP, at(25, 17)) == at(27, 8)
    assert next_open_moment(SHOP, at(25, 12)) == at(25, 12)
    assert next_open_moment(SHOP, at(26, 12)) == at(27, 8)
    assert next_open_moment(SHOP, at(25, 3)) == at(25, 8)


def test_the_day_of_the_missing_hour_is_an_hour_shorter_and_that_of_the_doubled_one_longer():
    lengths = [
        minutes_between(
            ROUND_THE_CLOCK,
            ROUND_THE_CLOCK.opening_moment(day),
            ROUND_THE_CLOCK.opening_moment(day) + timedelta(days=1),
        )
        for day in (date(2026, 3, 7), date(2026, 3, 8), date(2026, 10, 31), date(2026, 11, 1))
    ]
    assert lengths[0] == lengths[2] == 23 * 60
    assert minutes_between(ROUND_THE_CLOCK, at(8, 0, month=3), at(9, 0, month=3)) == 22 * 60
    assert minutes_between(ROUND_THE_CLOCK, at(1, 0), at(2, 0)) == 24 * 60


def test_hours_over_the_change_are_real_hours():
    assert minutes_between(ROUND_THE_CLOCK, at(8, 1, month=3), at(8, 4, month=3)) == 120
    assert minutes_between(ROUND_THE_CLOCK, at(1, 0), at(1, 4)) == 300
    assert moment_after(ROUND_THE_CLOCK, at(8, 1, month=3), 60) == at(8, 3, month=3)
    assert moment_after(ROUND_THE_CLOCK, at(1, 0, 30), 60).astimezone(UTC) == datetime(2026, 11, 1, 5, 30, tzinfo=UTC)


@given(shops, moments, minutes)
def test_so_many_minutes_lie_before_the_moment_after_them(shop, start, n):
    assert minutes_between(shop, start, moment_after(shop, start, n)) == pytest.approx(n)


@given(shops, moments, minutes)
def test_so_many_minutes_lie_after_the_moment_before_them(shop, end, n):
    assert minutes_between(shop, moment_before(shop, end, n), end) == pytest.approx(n)


@given(shops, moments, moments, moments)
def test_working_time_adds_up(shop, a, b, c):
    whole = minutes_between(shop, a, c)
    assert minutes_between(shop, a, b) + minutes_between(shop, b, c) == pytest.approx(whole)


@given(shops, moments, minutes, minutes)
def test_work_in_two_parts_ends_when_it_ends_in_one(shop, start, n, m):
    assert moment_after(shop, moment_after(shop, start, n), m) == moment_after(shop, start, n + m)


@pytest.mark.parametrize("bad", [-1, float("nan"), float("inf")])
def test_minutes_that_are_no_minutes_are_refused(bad):
    with pytest.raises(ValueError, match="minutes of work"):
        moment_after(SHOP, at(24, 9), bad)


def test_moments_without_a_time_zone_are_refused():
    naive = at(24, 9).replace(tzinfo=None)
    with pytest.raises(NaiveMomentError):
        minutes_between(SHOP, naive, naive)
    with pytest.raises(NaiveMomentError):
        moment_after(SHOP, naive, 10)
