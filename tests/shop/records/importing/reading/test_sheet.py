"""Cells of a sheet as its part keeps them: dates from either first day, numbers in any writing, hostile places."""

import datetime as dt
import io

import pytest
from openpyxl.utils.datetime import MAC_EPOCH, WINDOWS_EPOCH

from flueproof.shop.records.importing.errors import FileRefusedError
from flueproof.shop.records.importing.reading.cells import Day, Number, Unreadable
from flueproof.shop.records.importing.reading.sheet import sheet_rows

NAMESPACE = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'


def rows(inside, epoch=WINDOWS_EPOCH, shown_as="General"):
    part = f"<worksheet {NAMESPACE}><sheetData>{inside}</sheetData></worksheet>".encode()
    return list(sheet_rows(io.BytesIO(part), ["zero", "one"], lambda _: shown_as, epoch))


def cell(inside, **options):
    return rows(f"<row r='1'>{inside}</row>", **options)[0][0]


@pytest.mark.parametrize(("epoch", "day"), [(WINDOWS_EPOCH, "2024-04-02"), (MAC_EPOCH, "2028-04-03")])
def test_a_date_counts_from_the_workbooks_first_day(epoch, day):
    found = cell("<c r='A1' s='1'><v>45384</v></c>", epoch=epoch, shown_as="day")
    assert (found, type(found)) == (day, Day)
    assert dt.date.fromisoformat(found)


@pytest.mark.parametrize("value", ["0.5", "99999999999"])
def test_what_is_no_day_is_no_date(value):
    assert isinstance(cell(f"<c r='A1' s='1'><v>{value}</v></c>", shown_as="day"), Unreadable)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("123", "123"),
        ("123.0", "123"),
        ("1.23E5", "123000"),
        ("-7", "-7"),
        ("0.5", "0.5"),
        ("1E20", "1e+20"),
        ("1234567890123456", "1234567890123456.0"),
    ],
)
def test_numbers_are_numbers(value, text):
    found = cell(f"<c r='A1'><v>{value}</v></c>")
    assert (found, type(found)) == (text, Number)


def test_cells_and_rows_without_a_place_follow_one_another():
    assert rows("<row><c t='s'><v>1</v></c><c t='s'><v>0</v></c></row><row><c><v>2</v></c></row>") == [
        ["one", "zero"],
        ["2"],
    ]


def test_missing_cells_and_rows_are_empty():
    assert rows("<row r='2'><c r='C2' t='s'><v>1</v></c></row><row r='4'/>") == [[], ["", "", "one"], [], []]


def test_kinds_of_cells():
    assert cell("<c r='A1' t='b'><v>1</v></c>") == "yes"
    assert cell("<c r='A1' t='b'><v>0</v></c>") == "no"
    assert cell("<c r='A1' t='str'><f>X1</f><v>007</v></c>") == "007"
    assert cell("<c r='A1' t='d'><v>2024-04-02T00:00:00</v></c>") == "2024-04-02"
    assert isinstance(cell("<c r='A1'><f>X1</f></c>"), Unreadable)
    assert isinstance(cell("<c r='A1' t='e'><v>#N/A</v></c>"), Unreadable)


def test_a_cell_far_to_the_right_is_refused():
    with pytest.raises(FileRefusedError, match="more than 200 columns"):
        rows("<row r='1'><c r='XFD1'><v>1</v></c></row>")


@pytest.mark.parametrize(
    "inside",
    [
        "<row r='0'/>",
        "<row r='9999999'/>",
        "<row r='1'><c r='1A'><v>1</v></c></row>",
        "<row r='1'><c r='A1' t='s'><v>99</v></c></row>",
        "<row r='1'><c r='A1'><v>x</v></c></row>",
    ],
)
def test_what_no_spreadsheet_writes_is_an_error(inside):
    with pytest.raises((ValueError, IndexError)):
        rows(inside)
