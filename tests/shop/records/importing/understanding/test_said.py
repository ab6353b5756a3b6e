"""What one row says: texts as they stand, days, months, yes and no; what cannot be read is told by its column."""

import datetime as dt

import pytest

from flueproof.shop.records.importing.reading.cells import Day, Number, Unreadable
from flueproof.shop.records.importing.reading.table import Row
from flueproof.shop.records.importing.understanding.columns import Understanding
from flueproof.shop.records.importing.understanding.said import what_row_says

TODAY = dt.date(2026, 11, 25)


def said(for_all=None, order="", **cells):
    told = Understanding({name: place for place, name in enumerate(cells)}, for_all or {}, order)
    return what_row_says(Row(7, list(cells.values())), told, len(cells), TODAY)


def test_texts_stand_as_they_are_and_nothing_is_left_out():
    row = said(owner_name=" Birch (invented) ", serial="O5 00-1", contact_phone="n/a", region="NA", make="-")
    assert row.texts == {"owner_name": "Birch (invented)", "serial": "O5 00-1", "region": "NA"}
    assert row.errors == []


@pytest.mark.parametrize(
    ("name", "cell", "value"),
    [
        ("last_done", "2024-04-02", dt.date(2024, 4, 2)),
        ("next_due", Day("2024-04-02"), dt.date(2024, 4, 2)),
        ("months", "24", 24),
        ("due_agreed", "Yes", True),
        ("due_agreed", "0", False),
    ],
)
def test_values_are_read(name, cell, value):
    assert said(**{name: cell}).values == {name: value}


@pytest.mark.parametrize(
    ("name", "cell", "words"),
    [
        ("last_done", "31/2/2024", "Last verified on: 31/2/2024 is no day of any month"),
        ("last_done", Number("45384"), "count of days"),
        ("months", "0", "no whole number of months"),
        ("months", "twelve", "no whole number of months"),
        ("due_agreed", "maybe", "write yes or no, not maybe"),
        ("contact_email", "nobody", "nobody is no e-mail address"),
        ("owner_name", "x" * 201, "201 signs, at most 200"),
        ("owner_name", "a\x00b", "cannot be printed"),
        ("model", Unreadable("#N/A"), "no value (#N/A)"),
        ("profile", "nothing of ours", "no profile nothing of ours"),
        ("serial", Day("2024-03-12"), "made a date of it"),
        ("serial", Number("20417.5"), "lost digits"),
        ("serial", Number("1e+20"), "lost digits"),
        ("serial", "2.04E+07", "lost digits"),
        ("serial", "=A1", "begins with ="),
        ("serial", "'00123", "begins with '"),
        ("serial", "001\n002", "two lines"),
        ("serial", "---", "no letter A to Z"),
        ("serial", "1" * 61, "61 signs, at most 60"),
    ],
)
def test_what_cannot_be_read_is_told(name, cell, words):
    row = said(**{name: cell})
    assert len(row.errors) == 1
    assert words in row.errors[0]
    assert name not in row.values


def test_a_serial_kept_as_a_number_is_marked():
    assert said(serial=Number("20417")).as_number
    assert not said(serial="20417").as_number


def test_a_date_with_two_readings_waits():
    row = said(last_done="2/4/95")
    assert [str(one) for one in row.waiting] == [
        "2/4/95 can be 2 Apr 1995 or 4 Feb 1995: choose the order of day and month for this file"
    ]
    assert said(order="mdy", last_done="2/4/95").values["last_done"] == dt.date(1995, 2, 4)


def test_a_year_of_two_digits_and_a_date_of_one_order_are_noted():
    row = said(last_done="13/4/95")
    assert row.short_year == ("13/4/95", dt.date(1995, 4, 13))
    assert row.shows_order == "dmy"


def test_what_holds_for_all_rows_fills_what_a_row_leaves_out():
    for_all = {"make": "Orrin", "model": "Orrin 5", "profile": "two-cell-residential"}
    assert said(for_all, serial="1", make="").texts["make"] == "Orrin"
    assert said(for_all, serial="1", make="Other").texts["make"] == "Other"
    assert said(for_all, owner_name="Birch", serial="").texts == {"owner_name": "Birch"}


def test_more_cells_than_the_header_has_are_told():
    told = Understanding({"owner_name": 0})
    assert "more cells than the 1 columns" in what_row_says(Row(2, ["Birch", "Inc"]), told, 1, TODAY).errors[0]
    assert what_row_says(Row(2, ["Birch", " "]), told, 1, TODAY).errors == []


def test_a_profile_is_known_by_its_words():
    assert said(serial="1", profile="Two-cell residential").texts["profile"] == "two-cell-residential"
