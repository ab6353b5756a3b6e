"""Text files: encoding and divider are found out, cells come back as they were written."""

import codecs
import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.shop.records.importing.errors import FileRefusedError
from flueproof.shop.records.importing.reading.cells import trimmed
from flueproof.shop.records.importing.reading.text_file import read_text_file

SERIALS = st.text(st.sampled_from("0123456789ABCOI-/. _#"), min_size=1, max_size=20).filter(
    lambda text: text == text.strip() and not text.startswith("=")
)


def written(rows, divider=",", encoding="utf-8", quoting=csv.QUOTE_MINIMAL):
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=divider, quoting=quoting).writerows(rows)
    return text.getvalue().encode(encoding)


def cells(content):
    return [row.cells for row in read_text_file(content).rows()]


@pytest.mark.parametrize("divider", [",", ";", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_encoding_and_divider_are_found_out(divider, encoding):
    rows = [["Customer", "Serial", "Note"], ["Müller Heizung (invented)", "00123", "a, b; c"]]
    table = read_text_file(written(rows, divider, encoding))
    assert table.header == rows[0]
    assert [row.cells for row in table.rows()] == rows[1:]
    assert encoding.removesuffix("-sig").upper() in table.told[0].replace("Windows-1252", "CP1252")


def test_a_first_line_that_names_the_divider_is_followed():
    table = read_text_file(b"sep=;\r\nCustomer, Inc;Serial\r\nBirch;007\r\n")
    assert table.header == ["Customer, Inc", "Serial"]
    assert [(row.number, row.cells) for row in table.rows()] == [(3, ["Birch", "007"])]


def test_one_column_is_a_list_too():
    assert cells(b"Owner\nBirch (invented)\nElder, Son and Co (invented)\n")[0] == ["Birch (invented)"]


@pytest.mark.parametrize("line_end", [b"\n", b"\r\n", b"\r"])
def test_lines_may_end_in_any_way(line_end):
    assert cells(line_end.join([b"Owner,Serial", b"Birch,01", b""])) == [["Birch", "01"]]


def test_a_title_above_the_header_is_passed_over_and_empty_rows_too():
    table = read_text_file(b"Units of the shop,,\n,,\nOwner,Serial,\n,,\nBirch,01,\n")
    assert (table.header, table.header_row) == (["Owner", "Serial"], 3)
    assert [(row.number, row.cells) for row in table.rows()] == [(5, ["Birch", "01", ""])]


def test_a_quotation_mark_that_is_not_closed_is_told_with_its_row():
    table = read_text_file(b'Owner,Serial\nBirch,01\n"Elder,02\n')
    with pytest.raises(FileRefusedError, match="Row 3 cannot be divided"):
        list(table.rows())


def test_what_is_no_text_is_refused():
    with pytest.raises(FileRefusedError, match="no text file"):
        read_text_file(b"\x00\x01\x02\x03")
    with pytest.raises(FileRefusedError, match="neither UTF-8 nor Windows-1252"):
        read_text_file(b"Owner\nBirch \x81\x8d\n")
    with pytest.raises(FileRefusedError, match="first ten rows are empty"):
        read_text_file(b",,\n,,\n")


def test_a_cut_off_utf_8_file_is_not_taken_for_utf_8():
    with pytest.raises(FileRefusedError):
        read_text_file(codecs.BOM_UTF8 + b"Owner,Serial\nBirch\x8f,\xc3")


@given(st.lists(SERIALS, min_size=1, max_size=8), st.sampled_from(",;\t|"), st.sampled_from([0, 1]))
def test_serials_come_back_sign_for_sign(serials, divider, quoting):
    rows = [["Owner", "Serial", "Model"], *(["Birch", serial, "Orrin 5"] for serial in serials)]
    read = [trimmed(row[1]) for row in cells(written(rows, divider, quoting=quoting))]
    assert read == serials


@given(st.integers(0, 10**8), st.integers(1, 12))
def test_zeros_in_front_are_never_lost(number, width):
    serial = str(number).zfill(width)
    assert cells(written([["Owner", "Serial"], ["Birch", serial]])) == [["Birch", serial]]


@given(st.binary(max_size=300))
def test_any_bytes_are_a_list_or_refused(content):
    try:
        found = read_text_file(content).header
    except FileRefusedError as refused:
        found = str(refused)
    assert isinstance(found, list) or found.endswith(".")
