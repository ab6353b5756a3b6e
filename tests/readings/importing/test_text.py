"""Bytes, delimiters and rows."""

import pytest

from flueproof.readings.errors import TraceFileError
from flueproof.readings.importing.text import decoded, delimiter_of, rows_of


def test_zero_bytes_tell_utf_16_without_a_mark():
    assert decoded("time,co\n0,1\n".encode("utf-16-be")) == "time,co\n0,1\n"


def test_a_semicolon_wins_over_decimal_commas():
    assert delimiter_of("t;co\n0,5;1,5\n1,5;2,5\n") == ";"


def test_rows_keep_their_line_numbers():
    rows = rows_of("t,co\n\n# note\n0,1\n", ",")
    assert [row.number for row in rows] == [1, 4]


def test_a_delimiter_is_one_character():
    with pytest.raises(TraceFileError, match="not one character"):
        rows_of("a,b", ", ")
