"""Dates: what is clear is read, what can be two days is refused until the order is chosen, what is none is refused."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.shop.records.importing.reading.dates import (
    ORDERS,
    AmbiguousDateError,
    DateRefusedError,
    day_in_words,
    only_order,
    read_day,
    whole_year,
)

TODAY = dt.date(2026, 11, 25)
DAYS = st.dates(dt.date(1937, 1, 1), dt.date(2036, 12, 31))  # years that two digits can mean


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2024-04-02", (2024, 4, 2)),
        ("2024/4/2", (2024, 4, 2)),
        ("20240402", (2024, 4, 2)),
        ("2024-04-02 00:00:00", (2024, 4, 2)),
        ("2024-04-02T13:45:00.000Z", (2024, 4, 2)),
        ("13/4/2024", (2024, 4, 13)),
        ("4/13/2024", (2024, 4, 13)),
        ("4.4.24", (2024, 4, 4)),
        ("95/2/4", (1995, 2, 4)),
        ("2 Apr 24", (2024, 4, 2)),
        ("2-Apr-2024", (2024, 4, 2)),
        ("Apr 2, 2024", (2024, 4, 2)),
        ("April 2nd, 2024", (2024, 4, 2)),
        ("2nd April 2024", (2024, 4, 2)),
        ("Tuesday, April 2, 2024", (2024, 4, 2)),
        ("Sept. 9, 2024", (2024, 9, 9)),
        ("4/4/2024 12:00 AM", (2024, 4, 4)),
    ],
)
def test_a_clear_date_is_read_without_an_order(text, day):
    assert read_day(text, "", TODAY) == dt.date(*day)


@pytest.mark.parametrize("text", ["2/4/95", "2.4.2024", "02-04-24", "4/2/2024 12:00 AM", "05/06/07", "13/06/07"])
def test_a_date_with_two_readings_is_refused_until_the_order_is_chosen(text):
    with pytest.raises(AmbiguousDateError, match="choose the order"):
        read_day(text, "", TODAY)
    assert read_day(text, "dmy", TODAY) in set(_readings(text).values())


def _readings(text):
    with pytest.raises(AmbiguousDateError) as refused:
        read_day(text, "", TODAY)
    return refused.value.readings


def test_the_refusal_names_the_days():
    with pytest.raises(AmbiguousDateError, match="2 Apr 1995 or 4 Feb 1995"):
        read_day("2/4/95", "", TODAY)


@pytest.mark.parametrize(("order", "day"), [("dmy", (1995, 4, 2)), ("mdy", (1995, 2, 4))])
def test_the_chosen_order_is_kept_to(order, day):
    assert read_day("2/4/95", order, TODAY) == dt.date(*day)


def test_a_date_against_the_chosen_order_is_refused_and_never_turned_round():
    with pytest.raises(DateRefusedError, match="in the order day, month, year"):
        read_day("4/13/2024", "dmy", TODAY)


@pytest.mark.parametrize(
    "text",
    [
        *("31/2/2024", "2023-02-29", "2024-13-01", "soon", "April 2024", "2024", "0/0/00", "45384", "12", "2/4"),
        *("1/2/3/4", "29 Foo 2024", "2/4/5", "2/4/195", "195/2/4", "2024-04-02-05", "1-1-3000", "Apr 31, 2024"),
        "9" * 5000,
    ],
)
def test_what_is_no_day_is_refused_in_every_order(text):
    for order in ("", *ORDERS):
        with pytest.raises(DateRefusedError):
            read_day(text, order, TODAY)


def test_a_count_of_days_is_named_as_such():
    with pytest.raises(DateRefusedError, match="count of days"):
        read_day("45384", "", TODAY)


@pytest.mark.parametrize(("digits", "year"), [("95", 1995), ("37", 1937), ("36", 2036), ("00", 2000), ("2024", 2024)])
def test_two_digits_mean_the_latest_year_up_to_ten_ahead(digits, year):
    assert whole_year(digits, TODAY) == year


@pytest.mark.parametrize(
    ("text", "order"), [("13/4/2024", "dmy"), ("4/13/24", "mdy"), ("2/4/24", ""), ("2024-4-2", ""), ("Apr 2, 24", "")]
)
def test_a_date_possible_in_one_order_shows_it(text, order):
    assert only_order(text, TODAY) == order


@given(DAYS, st.sampled_from(["dmy", "mdy", "ymd"]), st.sampled_from("/-."), st.booleans())
def test_what_was_written_in_an_order_is_read_back_in_it(day, order, between, short):
    parts = {"d": str(day.day), "m": str(day.month), "y": f"{day.year % 100:02d}" if short else str(day.year)}
    text = between.join(parts[part] for part in order)
    assert read_day(text, order, TODAY) == day


@given(DAYS, st.sampled_from(["dmy", "mdy", "ymd"]), st.sampled_from("/-. "), st.booleans())
def test_without_an_order_a_date_is_read_as_it_was_written_or_refused(day, order, between, short):
    """The property that matters: no reading is ever chosen silently that the writer did not mean."""
    parts = {"d": f"{day.day:02d}", "m": str(day.month), "y": f"{day.year % 100:02d}" if short else str(day.year)}
    text = between.join(parts[part] for part in order)
    try:
        readings = {read_day(text, "", TODAY)}
    except AmbiguousDateError as refused:
        readings = set(refused.readings.values())
    assert day in readings


@given(DAYS)
def test_iso_dates_and_dates_with_the_month_as_a_word_never_depend_on_the_order(day):
    for order in ("", *ORDERS):
        assert read_day(day.isoformat(), order, TODAY) == day
        assert read_day(day_in_words(day), order, TODAY) == day
        assert read_day(day.strftime("%B %d, %Y"), order, TODAY) == day


@given(st.text(max_size=40))
def test_any_text_is_a_day_or_refused(text):
    try:
        found = read_day(text, "", TODAY)
    except DateRefusedError as refused:
        found = str(refused)
    assert found
