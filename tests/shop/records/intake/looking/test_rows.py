"""Owners and analyzers as the ranking sees them: merged ones under the one that stands, unread plates as unread."""

import datetime as dt

import pytest

from flueproof.shop.records.intake.looking.rows import owners_read, plates_read, with_analyzers
from flueproof.shop.records.models import Analyzer, Obligation, Owner, OwnerContact


def test_an_owner_has_its_people_places_and_all_its_names(owner):
    old = Owner.objects.create(name="Old Quay (invented)", merged_into=owner)
    OwnerContact.objects.create(owner=old, name="", phone="555-0177")
    owner.name = "Quay & Sons (invented)"
    owner.save()
    for read in (owners_read(), owners_read([owner.pk])):
        (firm,) = read.values()
        assert firm.names[0] == "Quay & Sons (invented)"
        assert set(firm.names[1:]) == {"Tidewater Heating (invented)", "Old Quay (invented)"}
        assert (firm.people, firm.phones) == (("Ada Quay (invented)",), ("555-0100", "555-0177"))
        assert firm.places[0].town == "Port Alder"


def test_a_merged_owner_asked_for_by_itself_is_nobody(owner):
    old = Owner.objects.create(name="Old Quay (invented)", merged_into=owner)
    assert owners_read([old.pk]) == {}
    assert owners_read([]) == {}


def test_plates_of_a_merged_owner_are_the_others_and_the_control_unit_is_nobodys(owner, analyzer):
    old = Owner.objects.create(name="Old Quay (invented)", merged_into=owner)
    Analyzer.objects.create(owner=old, make="Velm", model="V2", serial="not read yet (B-2026-00001)")
    Analyzer.objects.create(owner=owner, make="Orrin", model="5", serial="CTRL", control_unit=True)
    plates = plates_read([owner.pk])
    assert {(plate.owner, plate.serial) for plate in plates} == {(owner.pk, "O5-20417"), (owner.pk, "")}
    assert sorted(plates) == sorted(plates_read())


def test_an_analyzer_has_its_next_due_day_and_when_it_was_here(owner, analyzer, job):
    for day in (9, 4):
        Obligation.objects.create(analyzer=analyzer, next_due=dt.date(2026, 12, day))
    (firm,) = with_analyzers(owners_read([owner.pk]).values(), {analyzer.pk}, {}, {owner.pk: dt.date(2026, 11, 20)})
    (unit,) = firm.analyzers
    assert (unit.next_due, unit.last_seen) == (dt.date(2026, 12, 4), dt.date(2026, 11, 25))
    assert firm.called_on == dt.date(2026, 11, 20)


@pytest.mark.parametrize(
    ("state", "here"), [("arrived", True), ("held", True), ("requested", False), ("shipped", False)]
)
def test_an_analyzer_that_is_here_is_here_as_its_job(owner, analyzer, job, state, here):
    job.state = state
    job.save()
    (firm,) = with_analyzers(owners_read([owner.pk]).values(), (), {}, {})
    assert firm.analyzers[0].here_as == (job.number if here else "")
