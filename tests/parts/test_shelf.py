"""Shelf life: cells age from the day they were made."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.parts.errors import UnusableNumberError
from flueproof.parts.shelf import age_in_words, age_months, last_good_day, months_after

DAYS = st.dates(dt.date(1990, 1, 1), dt.date(2090, 12, 31))


@pytest.mark.parametrize(
    ("day", "months", "wanted"),
    [
        (dt.date(2026, 1, 31), 1, dt.date(2026, 2, 28)),
        (dt.date(2024, 1, 31), 1, dt.date(2024, 2, 29)),
        (dt.date(2026, 12, 15), 1, dt.date(2027, 1, 15)),
        (dt.date(2026, 3, 31), -1, dt.date(2026, 2, 28)),
        (dt.date(2024, 2, 29), 12, dt.date(2025, 2, 28)),
    ],
)
def test_a_month_later_is_the_same_day_or_the_last_of_the_month(day, months, wanted):
    assert months_after(day, months) == wanted


@given(DAYS, st.integers(-240, 240))
def test_months_move_the_month_by_just_so_many(day, months):
    later = months_after(day, months)
    assert (later.year - day.year) * 12 + later.month - day.month == months
    assert later.day <= day.day


def test_a_year_beyond_the_calendar_is_refused():
    with pytest.raises(UnusableNumberError, match="no year"):
        months_after(dt.date(9999, 6, 1), 12)


def test_the_earlier_of_age_and_print_counts():
    made, printed = dt.date(2026, 1, 10), dt.date(2026, 9, 1)
    assert last_good_day(made, 12, printed) == printed
    assert last_good_day(made, 6, printed) == dt.date(2026, 7, 10)
    assert last_good_day(made, None) is None
    assert last_good_day(None, 12) is None
    assert last_good_day(None, 12, printed) == printed


def test_a_shelf_life_of_nothing_is_refused():
    with pytest.raises(UnusableNumberError, match="keeps nothing"):
        last_good_day(dt.date(2026, 1, 1), 0)


@given(DAYS, st.integers(0, 20_000))
def test_age_counts_from_manufacture_and_never_below_none(made, days):
    assert age_months(made, made + dt.timedelta(days)) == pytest.approx(days / (365.25 / 12))
    assert age_months(made + dt.timedelta(days + 1), made) == 0


@pytest.mark.parametrize(
    ("days", "words"),
    [(1, "1 day old"), (18, "18 days old"), (230, "7 months old"), (830, "2 years 3 months old"), (731, "2 years old")],
)
def test_age_is_said_as_people_say_it(days, words):
    made = dt.date(2024, 1, 1)
    assert age_in_words(made, made + dt.timedelta(days)) == words
