"""A part is added once, by the person who added it."""

import pytest

from flueproof.shop.records.filing.adding import add_once
from flueproof.shop.records.models import Cell, OwnerContact


def test_the_same_row_twice_is_one(owner, people):
    made = [
        add_once(OwnerContact(owner=owner, name="Bo (invented)", phone="1"), "owner", people["counter"])
        for _ in range(2)
    ]
    assert made[0] == made[1]
    assert made[0].history.get().history_user == people["counter"]
    assert owner.contacts.count() == 2


@pytest.mark.parametrize("changed", [{"serial": "B8"}, {"lot": "L2"}, {"gas": "no"}])
def test_a_row_that_differs_in_anything_is_another(analyzer, people, changed):
    for fields in ({}, changed):
        add_once(Cell(analyzer=analyzer, **({"gas": "co", "serial": "B9"} | fields)), "analyzer", people["counter"])
    assert analyzer.cells.count() == 4


def test_the_same_row_of_another_parent_is_another(owner, people):
    other = type(owner).objects.create(name="Dune Stoves (invented)")
    for firm in (owner, other):
        add_once(OwnerContact(owner=firm, name="Bo (invented)"), "owner", people["counter"])
    assert OwnerContact.objects.filter(name="Bo (invented)").count() == 2
