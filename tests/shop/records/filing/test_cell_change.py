"""A cell is replaced: the old one stays on file, the same press twice changes nothing."""

import datetime as dt

import pytest

from flueproof.shop.records.filing.cell_change import CellGoneError, replace_cell
from flueproof.shop.records.models import Cell

DAY = dt.date(2026, 11, 25)


def test_the_old_cell_comes_out_on_the_day_the_new_one_goes_in(analyzer, people):
    old = analyzer.cells.get(gas="co")
    new = replace_cell(old, Cell(serial="B8", fitted=DAY), people["counter"])
    old.refresh_from_db()
    assert (old.removed, new.gas, new.analyzer, new.removed) == (DAY, "co", analyzer, None)
    assert new.history.get().history_user == people["counter"]


def test_the_same_press_twice_makes_one_cell(analyzer, people):
    old = analyzer.cells.get(gas="co")
    first = replace_cell(old, Cell(serial="B8", fitted=DAY), people["counter"])
    assert replace_cell(old, Cell(serial="B8", fitted=DAY), people["counter"]) == first
    assert analyzer.cells.filter(gas="co").count() == 2


def test_a_cell_that_is_out_is_not_replaced_again(analyzer, people):
    old = analyzer.cells.get(gas="co")
    replace_cell(old, Cell(serial="B8", fitted=DAY), people["counter"])
    with pytest.raises(CellGoneError, match="came out"):
        replace_cell(old, Cell(serial="B9", fitted=DAY), people["counter"])
