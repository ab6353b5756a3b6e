"""The shop's calendar: business days, why a day is closed, day 0, closing moments."""

from datetime import UTC, date, datetime, time

import pytest

from flueproof.promise.calendar.errors import BadCalendarError, NaiveMomentError, OutsideCalendarError
from flueproof.promise.calendar.shop_calendar import Closure, ShopCalendar

THANKSGIVING = date(2026, 11, 26)
INVENTORY = Closure(date(2026, 12, 3), date(2026, 12, 4), "inventory")


@pytest.fixture(scope="module")
def shop():
    return ShopCalendar(time_zone="America/Chicago", region="MN")


def test_thanksgiving_is_no_business_day_and_says_so(shop):
    assert not shop.is_business_day(THANKSGIVING)
    assert shop.why_closed(THANKSGIVING) == "Thanksgiving Day"
    assert shop.why_closed(date(2026, 11, 28)) == "Saturday"
    assert shop.why_closed(date(2026, 11, 27)) == ""


def test_an_own_closure_speaks_in_its_own_words():
    shop = ShopCalendar(closures=(INVENTORY,))
    assert [shop.why_closed(date(2026, 12, day)) for day in (2, 3, 4, 5)] == ["", "inventory", "inventory", "Saturday"]


def test_a_closure_over_the_turn_of_the_year_closes_both_years():
    shop = ShopCalendar(closures=(Closure(date(2026, 12, 24), date(2027, 1, 3), "winter break"),))
    assert shop.why_closed(date(2026, 12, 31)) == shop.why_closed(date(2027, 1, 1)) == "winter break"
    assert shop.next_business_day(date(2026, 12, 23)) == date(2027, 1, 4)


def test_an_extra_open_saturday_is_a_business_day():
    shop = ShopCalendar(extra_open=frozenset({date(2026, 11, 28), THANKSGIVING}))
    assert shop.is_business_day(date(2026, 11, 28))
    assert shop.is_business_day(THANKSGIVING)
    assert shop.add_business_days(date(2026, 11, 25), 3) == date(2026, 11, 28)


def test_a_holiday_on_which_the_shop_works_is_open_in_lieu_too():
    working = ShopCalendar(holidays_worked=frozenset({"Columbus Day", "Independence Day"}))
    assert working.is_business_day(date(2026, 10, 12))
    assert not ShopCalendar().is_business_day(date(2026, 10, 12))
    assert working.is_business_day(date(2026, 7, 3))
    assert ShopCalendar().why_closed(date(2026, 7, 3)) == "Independence Day (observed)"


def test_the_day_of_arrival_is_day_0(shop):
    assert shop.add_business_days(date(2026, 11, 24), 0) == date(2026, 11, 24)
    assert shop.add_business_days(date(2026, 11, 24), 5) == date(2026, 12, 2)
    assert shop.business_days_between(date(2026, 11, 24), date(2026, 12, 2)) == 5


def test_a_closed_day_counts_from_the_next_open_one_and_backwards_from_the_one_before(shop):
    assert shop.add_business_days(THANKSGIVING, 0) == date(2026, 11, 27)
    assert shop.add_business_days(THANKSGIVING, 1) == date(2026, 11, 30)
    assert shop.add_business_days(THANKSGIVING, -1) == date(2026, 11, 24)


def test_counting_goes_over_the_turn_of_the_year_both_ways(shop):
    assert shop.add_business_days(date(2026, 12, 30), 3) == date(2027, 1, 5)
    assert shop.add_business_days(date(2027, 1, 5), -3) == date(2026, 12, 30)
    assert shop.business_days_between(date(2027, 1, 5), date(2026, 12, 30)) == -3
    assert shop.business_days_between(date(2020, 2, 28), date(2020, 3, 2)) == 1


class TestCutOff:
    """What comes after the cut-off hour counts from the next business day."""

    @pytest.mark.parametrize(
        ("on", "at", "day"),
        [
            (date(2026, 11, 24), time(6, 0), date(2026, 11, 24)),
            (date(2026, 11, 24), time(15, 0), date(2026, 11, 24)),
            (date(2026, 11, 24), time(15, 0, 1), date(2026, 11, 25)),
            (date(2026, 11, 25), time(15, 1), date(2026, 11, 27)),
            (THANKSGIVING, time(9), date(2026, 11, 27)),
            (date(2026, 11, 26), time(23, 59), date(2026, 11, 27)),
            (date(2026, 11, 27), time(16, 0), date(2026, 11, 30)),
        ],
    )
    def test_day_0_of_a_moment(self, shop, on, at, day):
        assert shop.counted_from(datetime.combine(on, at, tzinfo=shop.zone)) == day

    def test_the_wall_clock_of_the_shop_decides_not_that_of_the_sender(self, shop):
        assert shop.counted_from(datetime(2026, 11, 25, 4, 30, tzinfo=UTC)) == date(2026, 11, 25)
        assert shop.today(datetime(2026, 11, 25, 4, 30, tzinfo=UTC)) == date(2026, 11, 24)

    def test_a_moment_without_a_time_zone_is_refused(self, shop):
        with pytest.raises(NaiveMomentError, match="no time zone"):
            shop.counted_from(datetime(2026, 11, 24, 9, 0, tzinfo=UTC).replace(tzinfo=None))


class TestBadCalendars:
    """A calendar that contradicts itself is refused with a message that says where."""

    @pytest.mark.parametrize(
        ("settings", "words"),
        [
            ({"time_zone": "America/Nowhere"}, "time zone “America/Nowhere” is not known"),
            ({"weekdays": frozenset()}, "at least one"),
            ({"weekdays": frozenset({7})}, "Monday 0 to Sunday 6"),
            ({"opens": time(17), "closes": time(8), "cut_off": time(8)}, "turn round"),
            ({"cut_off": time(18)}, "cut-off 18:00 is after closing time 17:00"),
            ({"closures": (INVENTORY,), "extra_open": {date(2026, 12, 4)}}, "2026-12-04 is an extra open day"),
        ],
    )
    def test_it_is_refused(self, settings, words):
        with pytest.raises(BadCalendarError, match=words):
            ShopCalendar(**settings)

    def test_a_closure_that_ends_before_it_begins_is_refused(self):
        with pytest.raises(BadCalendarError, match="before it begins"):
            Closure(date(2026, 12, 4), date(2026, 12, 3), "inventory")

    def test_a_mistyped_year_is_refused(self, shop):
        with pytest.raises(OutsideCalendarError, match="206 is outside the years 1980 to 2099"):
            shop.is_business_day(date(206, 11, 24))

    def test_a_shop_that_never_opens_again_is_refused_not_searched_for_ever(self):
        shut = ShopCalendar(closures=(Closure(date(2027, 1, 1), date(2099, 12, 31), "gone fishing"),))
        with pytest.raises(OutsideCalendarError):
            shut.add_business_days(date(2026, 12, 30), 10)
        with pytest.raises(OutsideCalendarError):
            shut.next_business_day(date(2026, 12, 31))


class TestMoments:
    """Opening and closing on the days when the clock is changed."""

    def test_closing_follows_daylight_saving(self):
        shop = ShopCalendar(time_zone="America/New_York")
        assert shop.closing_moment(date(2026, 3, 6)).astimezone(UTC) == datetime(2026, 3, 6, 22, tzinfo=UTC)
        assert shop.closing_moment(date(2026, 3, 9)).astimezone(UTC) == datetime(2026, 3, 9, 21, tzinfo=UTC)

    def test_a_missing_closing_hour_closes_when_the_clock_is_changed(self):
        night = ShopCalendar(opens=time(0), closes=time(2, 30), cut_off=time(1), weekdays=frozenset(range(7)))
        closing = night.closing_moment(date(2026, 3, 8))
        assert closing.astimezone(UTC) == datetime(2026, 3, 8, 7, tzinfo=UTC)
        assert closing.time() == time(3)

    def test_a_doubled_hour_opens_the_first_and_closes_the_second_time(self):
        night = ShopCalendar(opens=time(1, 10), closes=time(1, 50), cut_off=time(1, 10), weekdays=frozenset(range(7)))
        day = date(2026, 11, 1)
        assert night.opening_moment(day).astimezone(UTC) == datetime(2026, 11, 1, 5, 10, tzinfo=UTC)
        assert night.closing_moment(day).astimezone(UTC) == datetime(2026, 11, 1, 6, 50, tzinfo=UTC)


def test_calendars_with_the_same_settings_are_equal_whatever_they_were_asked(shop):
    other = ShopCalendar(time_zone="America/Chicago", country="us", region="Minnesota")
    assert shop.is_business_day(date(2026, 11, 24))
    assert other == shop
    assert hash(other) == hash(shop)
