"""The file in memory follows the database: few changes lie beside it, many make it anew, a new database too."""

import pytest

from flueproof.shop.records.intake.looking.in_step import the_file
from flueproof.shop.records.models import Analyzer, Owner, OwnerContact


@pytest.fixture
def firms(db):
    made = Owner.objects.bulk_create([Owner(name=f"Firm {number} (invented)") for number in range(40)])
    units = [Analyzer(owner=firm, make="Orrin", model="5", serial=f"A-{firm.pk:04d}") for firm in made]
    for unit in units:
        unit.fill_keys()
    return made, Analyzer.objects.bulk_create(units)


def test_without_a_change_it_stays_and_costs_four_small_queries(firms, django_assert_num_queries):
    first = the_file()
    assert len(first.whole.keys) == 40
    with django_assert_num_queries(4):
        assert the_file() is first


def test_a_change_lies_beside_the_whole(firms):
    first = the_file()
    OwnerContact.objects.create(owner=firms[0][3], name="Q. (invented)", phone="555-0133")
    second = the_file()
    assert second.whole is first.whole
    assert (second.changed, second.beside.keys) == ({firms[0][3].pk}, [firms[0][3].pk])


def test_an_analyzer_that_changed_hands_changes_both_owners(firms):
    the_file()
    unit = firms[1][0]
    unit.owner = firms[0][1]
    unit.save()
    assert the_file().changed == {firms[0][0].pk, firms[0][1].pk}


def test_a_merged_owner_is_gone_from_both(firms):
    the_file()
    gone, into = firms[0][:2]
    gone.merged_into = into
    gone.save()
    file = the_file()
    assert file.changed == {gone.pk, into.pk}
    assert file.beside.keys == [into.pk]
    assert {plate.owner for plate in file.beside.plates} == {into.pk}


def test_many_changes_make_it_anew(firms):
    first = the_file()
    for firm in firms[0][:25]:
        firm.note = "looked at"
        firm.save()
    second = the_file()
    assert second.whole is not first.whole
    assert second.changed == frozenset()


def test_a_circle_of_merged_owners_does_not_stop_it(firms):
    first, second = firms[0][:2]
    first.merged_into, second.merged_into = second, first
    first.save()
    second.save()
    assert len(the_file().whole.plates) >= 38
