"""The limits of a list."""

import pytest

from flueproof.shop.records.importing.errors import FileRefusedError
from flueproof.shop.records.importing.reading import table as table_file
from flueproof.shop.records.importing.reading.setting_aside import set_aside
from flueproof.shop.records.importing.reading.table import Row, Table, header_of


def listed(*rows):
    return Table(["Owner", "Serial"], 1, [], lambda: iter([["Owner", "Serial"], *rows]))


def test_too_many_rows_are_refused(monkeypatch):
    monkeypatch.setattr(table_file, "MOST_ROWS", 2)
    assert len(list(listed(["a", "1"], [], ["b", "2"]).rows())) == 2
    with pytest.raises(FileRefusedError, match="more than 2 rows"):
        list(listed(["a", "1"], ["b", "2"], ["c", "3"]).rows())


def test_a_cell_that_swallowed_the_rest_is_refused():
    with pytest.raises(FileRefusedError, match="Row 2 has a cell of more than 10,000 signs"):
        list(listed(["a" * 10_001, "1"]).rows())


def test_words_over_the_columns_lose_their_line_ends():
    assert header_of(iter([["Serial\nnumber ", "  ", ""]])) == (["Serial number"], 1)


def test_rows_set_aside_come_back_as_they_were():
    rows = [Row(number, [str(number), "x"]) for number in range(2500)]
    with set_aside(iter(rows)) as back:
        assert list(back) == rows


def test_a_list_that_breaks_off_breaks_before_anything_is_given_back():
    def breaking():
        yield Row(1, ["a"])
        raise FileRefusedError("broken")

    with pytest.raises(FileRefusedError), set_aside(breaking()):
        pytest.fail("nothing may be given back")
