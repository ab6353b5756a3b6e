"""Workbooks: text stays text, numbers are marked, formulas are never worked out, bombs are not unpacked."""

import datetime as dt
import io
import re
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import Workbook, load_workbook
from openpyxl.xml.constants import SHARED_STRINGS, SHEET_MAIN_NS

from flueproof.shop.records.importing.errors import FileRefusedError
from flueproof.shop.records.importing.reading.cells import Day, Number, Unreadable
from flueproof.shop.records.importing.reading.opening import open_table
from flueproof.shop.records.importing.reading.workbook import read_workbook

SIGNS = st.text(st.sampled_from("0123456789ABCOI-/._# ="), min_size=1, max_size=16).filter(
    lambda text: text.strip() and not text.startswith("=")
)


def workbook(rows, formats=None):
    book, kept = Workbook(), io.BytesIO()
    for row in rows:
        book.active.append(row)
    for place, shown_as in (formats or {}).items():
        book.active[place].number_format = shown_as
    book.save(kept)
    return kept.getvalue()


def changed(content, name, change):
    """Return the workbook with one of its parts changed."""
    kept = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.namelist():
            new.writestr(part, change(old.read(part)) if part == name else old.read(part))
    return kept.getvalue()


def with_table_of_texts(content, *texts):
    """Return the workbook with its texts in a table of their own, as most spreadsheets keep them."""
    kept, place = io.BytesIO(), iter(range(len(texts)))
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            part = old.read(name)
            if name == "xl/worksheets/sheet1.xml":
                pattern = rb' t="inlineStr"><is>.*?</is></c>'
                part = re.sub(pattern, lambda _: b' t="s"><v>%d</v></c>' % next(place), part)
            if name == "[Content_Types].xml":
                kind = SHARED_STRINGS.encode()
                override = b'<Override PartName="/xl/sharedStrings.xml" ContentType="' + kind + b'"/>'
                part = part.replace(b"</Types>", override + b"</Types>")
            new.writestr(name, part)
        table = "".join(f"<si>{text}</si>" for text in texts)
        new.writestr("xl/sharedStrings.xml", f'<sst xmlns="{SHEET_MAIN_NS}">{table}</sst>')
    return kept.getvalue()


def first_row(content):
    return next(iter(read_workbook(content).rows())).cells


def test_texts_days_and_numbers_are_told_apart():
    rows = [["A", "B", "C", "D", "E"], ["00123", 123, dt.date(2024, 4, 2), True, 20417.5]]
    cells = first_row(workbook(rows))
    assert cells == ["00123", "123", "2024-04-02", "yes", "20417.5"]
    assert [type(cell) for cell in cells] == [str, Number, Day, str, Number]


def test_a_number_shown_with_zeros_in_front_is_read_as_shown():
    cells = first_row(workbook([["Serial", "X"], [123, 123]], {"A2": "000000", "B2": "0"}))
    assert cells == ["000123", "123"]
    assert [type(cell) for cell in cells] == [str, Number]


def test_a_formula_is_not_worked_out_and_the_kept_value_counts():
    content = workbook([["Serial", "X"], ['="0"&"7"', "=1+1"]])
    kept = changed(
        content,
        "xl/worksheets/sheet1.xml",
        lambda part: re.sub(rb'<c r="A2".*?</c>', b'<c r="A2" t="str"><f>X</f><v>07</v></c>', part),
    )
    cells = first_row(kept)
    assert cells == ["07", "formula without a kept value"]
    assert [type(cell) for cell in cells] == [str, Unreadable]


def test_texts_in_a_table_of_their_own_are_read():
    """Parts of one text with different looks are one text; how it is spoken is none; escapes are undone."""
    pieces = "<r><t>00</t></r><r><rPr><b/></rPr><t>123</t></r><rPh><t>spoken</t></rPh>"
    content = workbook([["Serial", "X"], ["a", "b"], [7, "c"]])
    kept = with_table_of_texts(content, "<t>Serial</t>", "<t>X</t>", pieces, "<t>_x0041_</t>", "<t/>")
    table = read_workbook(kept)
    assert table.header == ["Serial", "X"]
    assert [row.cells for row in table.rows()] == [["00123", "A"], ["7"]]


def test_entities_in_the_table_of_texts_are_refused():
    content = with_table_of_texts(workbook([["Serial"], ["a"]]), "<t>Serial</t>", "<t>&b;</t>")
    laughs = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;">]>'
    with pytest.raises(FileRefusedError, match="cannot be read"):
        read_workbook(changed(content, "xl/sharedStrings.xml", lambda part: laughs + part))


def test_texts_that_stand_in_their_cells_are_read():
    content = workbook([["Serial", "X"], ["here", "1"]])
    inline = b'<c r="A2" t="inlineStr"><is><t>007</t></is></c>'
    kept = changed(content, "xl/worksheets/sheet1.xml", lambda part: re.sub(rb'<c r="A2".*?</c>', inline, part))
    assert first_row(kept)[0] == "007"


def test_an_error_of_the_spreadsheet_is_no_value():
    content = workbook([["Serial", "X"], ["#N/A", "1"]])
    assert isinstance(first_row(content)[0], Unreadable)


def test_rows_are_numbered_as_the_spreadsheet_shows_them():
    book, kept = Workbook(), io.BytesIO()
    book.active["A3"], book.active["B3"], book.active["A7"] = "Owner", "Serial", "Birch"
    book.save(kept)
    table = read_workbook(kept.getvalue())
    assert table.header_row == 3
    assert [row.number for row in table.rows()] == [7]


def test_the_first_sheet_with_cells_is_read_unless_one_is_named():
    book, kept = Workbook(), io.BytesIO()
    for title, serial in (("One", "1"), ("Two", "2")):
        sheet = book.create_sheet(title)
        sheet.append(["Owner", "Serial"])
        sheet.append(["Birch", serial])
    book.save(kept)
    table = read_workbook(kept.getvalue())
    assert (table.sheet, table.sheets) == ("One", ["Sheet", "One", "Two"])
    assert [row.cells for row in read_workbook(kept.getvalue(), "Two").rows()] == [["Birch", "2"]]
    with pytest.raises(FileRefusedError, match="no sheet 'Three'"):
        read_workbook(kept.getvalue(), "Three")
    with pytest.raises(FileRefusedError, match="first ten rows are empty"):
        read_workbook(kept.getvalue(), "Sheet")


def test_a_workbook_that_unpacks_to_far_more_is_not_opened(monkeypatch):
    def open_nothing(*_, **__):
        raise AssertionError

    content = workbook([["Owner", "Serial"], ["Birch", "1"]])
    bomb = changed(content, "xl/worksheets/sheet1.xml", lambda part: part + b" " * (8 * 2**20))
    monkeypatch.setattr("openpyxl.load_workbook", open_nothing)
    with pytest.raises(FileRefusedError, match="unpacks to far more"):
        read_workbook(bomb)


def test_entities_in_a_sheet_are_refused():
    content = workbook([["Owner", "Serial"], ["Birch", "1"]])
    laughs = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;">]>'
    hostile = changed(content, "xl/worksheets/sheet1.xml", lambda part: laughs + part)
    with pytest.raises(FileRefusedError, match="cannot be read"):
        read_workbook(hostile)


@pytest.mark.parametrize("part", ["xl/worksheets/sheet1.xml", "xl/workbook.xml", "xl/styles.xml"])
def test_a_broken_workbook_is_refused_with_what_to_do(part):
    content = workbook([["Owner", "Serial"], ["Birch", "1"]])
    with pytest.raises(FileRefusedError, match="save it as"):
        list(read_workbook(changed(content, part, lambda text: text[: len(text) // 2])).rows())


def test_too_many_columns_are_refused():
    with pytest.raises(FileRefusedError, match="more than 200 columns"):
        read_workbook(workbook([["x"] * 300]))


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b" \n", "empty"),
        (b"\xd0\xcf\x11\xe0 old", "old workbook"),
        (b"%PDF-1.7", "PDF"),
        (b"PK\x03\x04 cut", "cannot be read"),
        (b"x" * (25 * 2**20), "larger than 24 MB"),
    ],
)
def test_what_is_no_list_is_refused_by_its_bytes(content, words):
    with pytest.raises(FileRefusedError, match=words):
        open_table(content)


def test_another_kind_of_zip_is_no_workbook():
    kept = io.BytesIO()
    with zipfile.ZipFile(kept, "w") as packed:
        packed.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
    with pytest.raises(FileRefusedError, match=r"no \.xlsx workbook"):
        open_table(kept.getvalue())


@settings(max_examples=25)
@given(st.lists(SIGNS, min_size=1, max_size=10))
def test_serials_written_as_text_come_back_sign_for_sign(serials):
    content = workbook([["Owner", "Serial"], *(["Birch", serial] for serial in serials)])
    assert [row.cells[1] for row in open_table(content).rows()] == serials
    assert [row[1].value for row in load_workbook(io.BytesIO(content)).active.iter_rows(min_row=2)] == serials


@settings(max_examples=25)
@given(st.lists(st.integers(0, 10**14), min_size=1, max_size=10))
def test_numbers_are_always_marked_as_numbers(numbers):
    content = workbook([["Owner", "Serial"], *(["Birch", number] for number in numbers)])
    read = [row.cells[1] for row in open_table(content).rows()]
    assert read == [str(number) for number in numbers]
    assert all(isinstance(cell, Number) for cell in read)
