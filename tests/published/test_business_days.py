"""Business days against published holiday tables and numpy, clock changes against the law that sets them.

The days that a shop closes are held against the tables day by day; numpy is given the published days, not ours.
"""

import calendar as months
import json
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import numpy as np
import pytest

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.calendar.working_time import minutes_between

ENTRIES = {e["id"]: e for e in json.loads((Path(__file__).parent / "data" / "days.json").read_text("utf-8"))}
HOLIDAYS = ["holidays-us-federal", "holidays-england-and-wales", "holidays-germany"]
CLOCK_CHANGES = ["clock-changes-us", "clock-changes-eu"]


def published_days(name):
    return sorted(
        date.fromisoformat(f"{year}-{day}") for year, days in ENTRIES[name]["expected"].items() for day in days
    )


def span_of(name):
    years = [int(year) for year in ENTRIES[name]["expected"]]
    assert years == list(range(years[0], years[-1] + 1))
    assert len(years) >= 10
    return date(years[0], 1, 1), date(years[-1], 12, 31)


def all_days(first, last):
    return [first + timedelta(days=step) for step in range((last - first).days + 1)]


@pytest.fixture(scope="module", params=HOLIDAYS)
def place(request):
    """(name of the table, a shop there that works Monday to Friday)."""
    return request.param, ShopCalendar(**ENTRIES[request.param]["inputs"])


def test_every_entry_is_used_and_says_where_it_is_from():
    assert set(ENTRIES) == {*HOLIDAYS, *CLOCK_CHANGES}
    for entry in ENTRIES.values():
        assert entry["source"]["publication"]
        assert entry["provenance"].startswith(("second-hand", "from memory"))


def test_the_closed_weekdays_are_the_published_ones(place):
    name, shop = place
    closed = [day for day in all_days(*span_of(name)) if day.weekday() < 5 and not shop.is_business_day(day)]
    assert closed == [day for day in published_days(name) if day.weekday() < 5]


def test_a_leap_day_is_a_day_like_any_other(place):
    name, shop = place
    first, last = span_of(name)
    leaps = [date(year, 2, 29) for year in range(first.year, last.year + 1) if months.isleap(year)]
    assert len(leaps) >= 2
    for leap in leaps:
        assert shop.is_business_day(leap) == (leap.weekday() < 5)
        assert shop.add_business_days(leap - timedelta(days=7), 5) == shop.first_business_day(leap)


class TestAgainstNumpy:
    """numpy.busday_*, given the published days and its own week mask, on every day of ten years and more."""

    @pytest.fixture
    def numpy_calendar(self, place):
        return np.busdaycalendar("Mon Tue Wed Thu Fri", published_days(place[0]))

    def test_is_busday(self, place, numpy_calendar):
        days = all_days(*span_of(place[0]))
        theirs = np.is_busday(np.asarray(days, dtype="datetime64[D]"), busdaycal=numpy_calendar)
        assert [place[1].is_business_day(day) for day in days] == theirs.tolist()

    @pytest.mark.parametrize("n", [0, 1, 2, 3, 5, 7, 10, 22, 65, -1, -4, -21])
    def test_busday_offset(self, place, numpy_calendar, n):
        first, last = span_of(place[0])
        days = all_days(first + timedelta(days=120), last - timedelta(days=120))
        roll = "forward" if n >= 0 else "backward"
        theirs = np.busday_offset(np.asarray(days, dtype="datetime64[D]"), n, roll=roll, busdaycal=numpy_calendar)
        assert [place[1].add_business_days(day, n) for day in days] == theirs.tolist()

    @pytest.mark.parametrize("length", [0, 1, 6, 30, 365, 1461])
    def test_busday_count(self, place, numpy_calendar, length):
        first, last = span_of(place[0])
        begins = all_days(first, last - timedelta(days=length + 1))
        days = np.asarray(begins, dtype="datetime64[D]") + 1
        theirs = np.busday_count(days, days + length, busdaycal=numpy_calendar)
        ours = [place[1].business_days_between(day, day + timedelta(days=length)) for day in begins]
        assert ours == theirs.tolist()


def test_five_business_days_over_thanksgiving_2026():
    """The United States table: 26 November 2026 is Thanksgiving, so the fifth day after Tuesday the 24th is the 2nd."""
    assert date(2026, 11, 26) in published_days("holidays-us-federal")
    assert ShopCalendar().add_business_days(date(2026, 11, 24), 5) == date(2026, 12, 2)


@pytest.mark.parametrize("name", CLOCK_CHANGES)
def test_the_clock_is_changed_on_the_days_of_the_law_and_no_other(name):
    entry = ENTRIES[name]
    shop = ShopCalendar(**entry["inputs"], opens=time(0), closes=time(23, 59), country="", weekdays=range(7))
    first, last = span_of(name)
    hours = {}
    for day in all_days(first, last):
        midnight, next_midnight = shop.opening_moment(day), shop.opening_moment(day + timedelta(days=1))
        hours[day] = (next_midnight.astimezone(UTC) - midnight.astimezone(UTC)) / timedelta(hours=1)
    assert sorted(day for day, length in hours.items() if length != 24) == published_days(name)
    assert {hours[day] for day in published_days(name) if day.month < 7} == {23}
    assert {hours[day] for day in published_days(name) if day.month > 7} == {25}


@pytest.mark.parametrize(
    ("name", "before", "after"),
    [
        ("clock-changes-us", datetime(2026, 3, 8, 6, 59, tzinfo=UTC), datetime(2026, 3, 8, 7, 0, tzinfo=UTC)),
        ("clock-changes-eu", datetime(2026, 3, 29, 0, 59, tzinfo=UTC), datetime(2026, 3, 29, 1, 0, tzinfo=UTC)),
    ],
)
def test_the_clock_is_changed_at_the_minute_of_the_law(name, before, after):
    zone = ShopCalendar(**ENTRIES[name]["inputs"]).zone
    assert before.astimezone(zone).hour == 1
    assert after.astimezone(zone).hour == 3


@pytest.mark.parametrize("name", CLOCK_CHANGES)
def test_working_days_around_the_change_keep_their_nine_hours(name):
    shop = ShopCalendar(**ENTRIES[name]["inputs"], country="")
    for change in published_days(name):
        friday, monday = change - timedelta(days=2), change + timedelta(days=1)
        for day in (friday, monday):
            assert minutes_between(shop, shop.opening_moment(day), shop.closing_moment(day)) == 540
        assert minutes_between(shop, shop.opening_moment(friday), shop.closing_moment(monday)) == 1080
        assert shop.closing_moment(monday).time() == time(17)
