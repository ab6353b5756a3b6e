"""The shop's calendar from its settings and closed days."""

import datetime as dt

from flueproof.shop.records.models import Closure
from flueproof.shop.records.promises.calendar import calendar_with, days_of, shop_calendar, why_impossible


def day(text):
    return dt.date.fromisoformat(f"2026-{text}")


def test_the_settings_make_the_calendar(shop):
    shop.country, shop.region, shop.working_days = "US", "", [0, 1, 2, 3]
    shop.save()
    calendar = shop_calendar()
    assert calendar.why_closed(day("11-26")) == "Thanksgiving Day"
    assert calendar.why_closed(day("11-27")) == "Friday"
    assert calendar.cut_off == dt.time(15)


def test_closed_days_and_days_open_in_spite_of_a_holiday_count_and_closed_wins(shop):
    Closure.objects.create(first=day("12-24"), last=day("12-28"), words="stocktaking")
    Closure.objects.create(first=day("11-26"), last=day("11-26"), open=True, words="rush of the season")
    Closure.objects.create(first=day("12-25"), last=day("12-25"), open=True, words="both")
    calendar = shop_calendar()
    assert calendar.is_business_day(day("11-26"))
    assert calendar.why_closed(day("12-25")) == "stocktaking"
    assert calendar.next_business_day(day("12-23")) == day("12-29")


def test_the_same_settings_give_the_same_calendar_with_its_years_worked_out(shop):
    assert shop_calendar() is shop_calendar()


def test_days_end_with_the_last_one_and_after_a_year():
    assert days_of(day("01-01"), day("01-03")) == [day("01-01"), day("01-02"), day("01-03")]
    assert len(days_of(dt.date(2020, 1, 1), dt.date(2040, 1, 1))) == 367


def test_settings_that_make_no_calendar_say_why(shop):
    shop.opens_at, shop.closes_at = dt.time(17), dt.time(8)
    assert "turn round" in why_impossible(shop, [])
    shop.opens_at, shop.closes_at, shop.country = dt.time(8), dt.time(17), "US"
    assert why_impossible(shop, []) == ""
    assert calendar_with(shop, []).opens == dt.time(8)


def test_a_closed_span_that_ends_before_it_begins_is_left_out(shop):
    turned = Closure(first=day("12-10"), last=day("12-01"), words="typed wrongly")
    assert calendar_with(shop, [turned]).is_business_day(day("12-04"))
