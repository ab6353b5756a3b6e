"""The list of problems: mended it can be imported again; no spreadsheet takes a cell for a formula."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.shop.records.importing.problems import KIND_IN_WORDS, guarded, problems_of
from flueproof.shop.records.importing.reading.cells import trimmed
from flueproof.shop.records.importing.understanding.findings import KINDS

LIST = (
    "Customer,Note,Make,Model,Serial,Last cal.\n"
    "Birch (invented),+1 more,Orrin,Orrin 5,0123,31/2/2026\n"
    "Birch (invented),=1+1,Orrin,Orrin 5,0124,\n"
    '"Elder, Son (invented)",@x,Orrin,,00777,\n'
    "Elder (invented),,Orrin,Orrin 5,00888,\n"
)


def lines(run):
    return list(csv.reader(io.StringIO(problems_of(run).decode("utf-8-sig"), newline="")))


def test_each_row_with_a_problem_stands_with_its_number_and_reason(looked_at):
    found = lines(looked_at(LIST))
    assert found[0] == [
        "Customer",
        "Note",
        "Make",
        "Model",
        "Serial",
        "Last cal.",
        "Row in the list",
        "What it is",
        "Why",
    ]
    assert [row[6] for row in found[1:]] == ["2", "4"]
    assert found[1][8] == "Last verified on: 31/2/2026 is no day of any month"
    assert found[2][0] == "Elder, Son (invented)"
    assert found[2][7:] == ["cannot be read", "Model is missing"]


def test_cells_that_would_be_formulas_are_guarded(looked_at):
    found = lines(looked_at(LIST))
    assert [row[1] for row in found[1:]] == ["'+1 more", "'@x"]


def test_the_mended_list_is_imported(looked_at):
    first = looked_at(LIST)
    mended = problems_of(first).decode("utf-8-sig").replace("31/2/2026", "2026-02-28")
    again = looked_at(mended.encode())
    assert again.mapping["columns"] == first.mapping["columns"]
    assert again.found["kinds"]["new"] == 1
    assert again.found["kinds"]["error"] == 1


def test_after_the_import_the_list_stays_as_it_was(imported):
    run = imported(LIST)
    assert [row[6] for row in lines(run)[1:]] == ["2", "4"]


@pytest.mark.parametrize("text", ["=1", "+1", "-1", "@a", "\tx", "\rx"])
def test_what_starts_like_a_formula_gets_an_apostrophe(text):
    assert guarded(text) == f"'{text}"


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=30))
def test_a_guarded_cell_starts_no_formula_and_reads_back_as_it_was(text):
    assert not guarded(text).startswith(("=", "+", "-", "@", "\t", "\r"))
    if not text.startswith(("'", "=")):
        assert trimmed(guarded(text)) == trimmed(text) or text[:1] in "\t\r"


def test_every_kind_has_words():
    assert KIND_IN_WORDS.keys() == set(KINDS)
