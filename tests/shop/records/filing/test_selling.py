"""What was due for a sold analyzer goes on by the new owner's word, or ends."""

import datetime as dt

import pytest

from flueproof.shop.records.filing.selling import pass_on_what_is_due
from flueproof.shop.records.issuing.obligations import next_due

DAY = dt.date(2026, 11, 25)


@pytest.fixture
def two(analyzer):
    return [analyzer.obligations.create(what=what, agreed_by="A. Quay") for what in ("yearly", "filters")]


def test_with_the_new_owners_word_all_go_on(analyzer, people, two):
    assert pass_on_what_is_due(analyzer, "C. Dune", people["counter"], DAY) == []
    assert {(one.agreed_by, one.agreed_on) for one in analyzer.obligations.all()} == {("C. Dune", DAY)}
    assert two[0].history.first().history_user == people["counter"]


def test_without_it_all_end_and_stay_in_the_history(analyzer, people, two):
    assert [str(one) for one in pass_on_what_is_due(analyzer, "", people["counter"], DAY)] == ["yearly", "filters"]
    assert not analyzer.obligations.exists()
    assert two[0].history.first().history_type == "-"


def test_nothing_due_is_nothing_to_pass_on(analyzer, people):
    assert pass_on_what_is_due(analyzer, "", people["counter"], DAY) == []


def test_what_goes_on_keeps_its_day(analyzer, people, two):
    pass_on_what_is_due(analyzer, "C. Dune", people["counter"], DAY)
    assert next_due(analyzer.obligations.first(), DAY) == dt.date(2027, 11, 25)
