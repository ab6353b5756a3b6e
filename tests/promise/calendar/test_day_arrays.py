"""Arrays of days by numpy say what the calendar says of each day: two ways of counting, written apart."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueproof.promise.calendar.day_arrays import add_business_days, are_business_days, business_days_between
from flueproof.promise.calendar.errors import OutsideCalendarError
from flueproof.promise.calendar.shop_calendar import Closure, ShopCalendar

SHOPS = [
    ShopCalendar(region="MN"),
    ShopCalendar(country="DE", region="BY", time_zone="Europe/Berlin", weekdays=frozenset(range(6))),
    ShopCalendar(
        country="",
        weekdays=frozenset({0, 2}),
        closures=(Closure(date(2024, 2, 1), date(2024, 8, 1), "rebuilding"),),
        extra_open=frozenset({date(2024, 8, 4), date(2024, 12, 25)}),
    ),
]
shops = st.sampled_from(SHOPS)
days = st.dates(date(2020, 1, 1), date(2030, 12, 31))


def as_array(some):
    return np.asarray(some, dtype="datetime64[D]")


@settings(deadline=None)
@given(shops, st.lists(days, max_size=8), st.integers(-400, 400))
def test_the_n_th_business_day_is_the_same(shop, some, n):
    found = add_business_days(shop, as_array(some), n)
    assert found.tolist() == [shop.add_business_days(day, n) for day in some]


@settings(deadline=None)
@given(shops, st.lists(st.tuples(days, days), max_size=8))
def test_the_count_between_is_the_same(shop, pairs):
    first, last = as_array([a for a, _ in pairs]), as_array([b for _, b in pairs])
    assert business_days_between(shop, first, last).tolist() == [shop.business_days_between(a, b) for a, b in pairs]


@settings(deadline=None)
@given(shops, st.lists(days, max_size=8))
def test_open_days_are_the_same(shop, some):
    assert are_business_days(shop, as_array(some)).tolist() == [shop.is_business_day(day) for day in some]


@given(shops, days, st.integers(0, 300))
def test_counting_undoes_adding(shop, day, n):
    start = shop.first_business_day(day)
    assert shop.business_days_between(start, shop.add_business_days(start, n)) == n
    assert shop.add_business_days(shop.add_business_days(start, n), -n) == start


def test_both_signs_at_once_are_refused():
    with pytest.raises(ValueError, match="both signs"):
        add_business_days(SHOPS[0], as_array(["2026-11-24"]), np.asarray([1, -1]))


def test_a_missing_day_and_one_out_of_reach_are_refused():
    with pytest.raises(OutsideCalendarError, match="missing"):
        are_business_days(SHOPS[0], as_array(["NaT"]))
    with pytest.raises(OutsideCalendarError, match="outside the years"):
        add_business_days(SHOPS[0], as_array(["2099-12-30"]), 30)
