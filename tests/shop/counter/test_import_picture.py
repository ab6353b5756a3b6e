"""The picture of an import: the bar is whole, small shares stay visible, the words say the same."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.shop.counter.forms.importing import column_letter
from flueproof.shop.counter.presenters.importing import in_one_sentence, made_in_words, shares
from flueproof.shop.records.importing.understanding.findings import KINDS
from flueproof.shop.records.models import ImportRun


def found(**kinds):
    counted = dict.fromkeys(KINDS, 0) | kinds
    return {"rows": sum(counted.values()), "kinds": counted, "makes": {}}


@given(st.fixed_dictionaries({kind: st.integers(0, 200_000) for kind in KINDS}))
def test_the_parts_fill_the_bar_side_by_side(kinds):
    parts = shares(found(**kinds))
    assert {part.kind: part.count for part in parts} == {kind: count for kind, count in kinds.items() if count}
    for before, after in pairwise(parts):
        assert after.x == pytest.approx(before.x + before.width, abs=0.02)
    if parts:
        assert parts[0].x == 0
        assert parts[-1].x + parts[-1].width == pytest.approx(600, abs=0.02)
        assert min(part.width for part in parts) > 2.8


def test_one_row_of_many_is_seen():
    (new, wrong) = shares(found(new=99_999, error=1))
    assert wrong.width == pytest.approx(3, abs=0.1)
    assert (new.counted, wrong.counted) == ("99,999", "1")


@pytest.mark.parametrize(
    ("kinds", "done", "words"),
    [
        ({"new": 2450, "error": 50}, None, "2,450 of 2,500 rows would be new"),
        ({"new": 1, "adds": 1}, True, "2 of 2 rows were new"),
        ({"adds": 1}, True, "1 of 1 row was new"),
        ({"there": 3}, None, "0 of 3 rows would be new"),
    ],
)
def test_the_picture_in_words(kinds, done, words, now):
    assert in_one_sentence(ImportRun(found=found(**kinds), done_at=now if done else None)) == words


def test_what_is_made_is_listed_with_its_number():
    makes = {"analyzer": 2431, "owner": 1, "contact": 2}
    assert made_in_words({"makes": makes}) == "1 owner, 2 people and 2,431 analyzers"
    assert made_in_words({"makes": {"due": 1}}) == "1 due date or interval"
    assert made_in_words({"makes": {}}) == ""


@pytest.mark.parametrize(("place", "letter"), [(0, "A"), (25, "Z"), (26, "AA"), (27, "AB"), (701, "ZZ"), (702, "AAA")])
def test_columns_have_the_letters_of_a_spreadsheet(place, letter):
    assert column_letter(place) == letter
