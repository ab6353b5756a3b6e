"""Cells: space around them goes, marks of text go, what a spreadsheet did to them stays known."""

import pytest

from flueproof.shop.records.importing.reading.cells import Day, Number, has_control_sign, trimmed


@pytest.mark.parametrize(
    ("cell", "text"),
    [
        ("  007 ", "007"),
        ("\u00a0O5-1\ufeff", "O5-1"),
        ('="00123"', "00123"),
        ("'=A1", "=A1"),
        ("'+1 555", "+1 555"),
        ("'00123", "'00123"),
        ("=A1", "=A1"),
        ('="a"&"b"', '="a"&"b"'),
        ("O'Hara", "O'Hara"),
        ("", ""),
    ],
)
def test_a_cell_is_trimmed_to_its_text(cell, text):
    assert trimmed(cell) == text


def test_a_number_stays_one_when_it_is_trimmed():
    assert isinstance(trimmed(Number("7")), Number)
    assert isinstance(trimmed(Day(" 2024-01-01 ")), Day)


def test_signs_that_cannot_be_printed_are_seen():
    assert has_control_sign("a\x00b")
    assert not has_control_sign("two\nlines\tand a tab")
