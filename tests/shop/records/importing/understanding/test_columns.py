"""Which column is what: guessed from words, remembered for a header, kept apart from what belongs to one file."""

import pytest

from flueproof.shop.records.importing.understanding.columns import (
    Understanding,
    guess,
    header_key,
    remember,
    understanding_of,
)
from flueproof.shop.records.importing.understanding.fields import FIELDS, GROUPS


@pytest.mark.parametrize(
    ("word", "field"),
    [
        ("Customer", "owner_name"),
        ("CustomerName", "owner_name"),
        ("CUST. NO.", "owner_number"),
        ("Serial #", "serial"),
        ("S/N", "serial"),
        ("serial_number", "serial"),
        ("Serail number", "serial"),
        ("Cal. due", "next_due"),
        ("Last Calibration Date", "last_done"),
        ("E-Mail", "contact_email"),
        ("ZIP", "postcode"),
        ("Manufacturer", "make"),
    ],
)
def test_a_word_over_a_column_is_known(word, field):
    assert guess([word, "Xyzzy"]) == {field: 0}


def test_every_word_of_every_field_leads_to_it():
    for field in FIELDS:
        assert field.group in GROUPS
        for word in field.words:
            assert guess([word]) == {field.name: 0}, word


def test_each_column_and_each_field_is_taken_once_the_surest_first():
    assert guess(["Name", "Customer", "Serial", "Serial number"]) == {"owner_name": 1, "serial": 2}


def test_a_remembered_header_leads_to_what_was_said(people):
    told = Understanding({"serial": 1}, {"make": "Orrin"}, "dmy", sheet="Units", others=frozenset({4}), zeros_seen=True)
    header = ["Owner", "No."]
    assert understanding_of(header) == (Understanding(columns=guess(header)), False)
    remember(header, told, people["counter"])
    found, remembered = understanding_of([" OWNER", "no"])
    assert remembered
    assert (found.columns, found.for_all["make"], found.date_order) == ({"serial": 1}, "Orrin", "dmy")
    assert (found.sheet, found.others, found.zeros_seen) == ("", frozenset(), False)


def test_another_order_of_columns_is_another_header():
    assert header_key(["Owner", "Serial"]) != header_key(["Serial", "Owner"])


def test_an_understanding_comes_back_from_the_database_as_it_was():
    told = Understanding({"serial": 1}, {"make": "a", "model": "", "profile": ""}, "mdy", "S", frozenset({2, 9}), True)
    assert Understanding.from_json(told.as_json(), "mdy") == told
