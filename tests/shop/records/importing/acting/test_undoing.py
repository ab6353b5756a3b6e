"""Undoing an import: all of it with history, or nothing, or the rest where something has been built on it."""

import pytest

from flueproof.shop.records.importing.acting.built_upon import in_words, standing
from flueproof.shop.records.importing.acting.undoing import undo_import
from flueproof.shop.records.importing.acting.writing import MADE
from flueproof.shop.records.importing.errors import BuiltUponError, ImportRefusedError
from flueproof.shop.records.models import Analyzer, Cell, Job, Obligation, Owner, OwnerContact, Person, SearchKey

LIST = (
    "Customer,Contact,Street,City,Make,Model,Serial,Cal due\n"
    "Birch (invented),Ann Birch (invented),1 Elm,Port Alder,Orrin,Orrin 5,00123,2027-01-05\n"
    "Birch (invented),,,,Orrin,Orrin 5,00124,\n"
    "Elder (invented),,,,Orrin,Orrin 5,00777,2027-01-05\n"
    "Tidewater Heating (invented),Bo Quay (invented),,,Orrin,Orrin 5,00888,\n"
)


@pytest.fixture
def run(imported, owner):
    return imported(LIST)


@pytest.fixture
def unit():
    return lambda serial: Analyzer.objects.get(serial=serial)


def rows():
    return {name: model.objects.count() for name, model in MADE.items()}


def test_everything_goes_and_the_history_keeps_it(imported, looked_at, owner, people, now):
    before, keys = rows(), set(SearchKey.objects.values_list("kind", "target"))
    run = imported(LIST)
    undone = undo_import(run, people["manager"], now)
    assert undone.undone_at == now
    assert rows() == before
    assert set(SearchKey.objects.values_list("kind", "target")) == keys
    last = Analyzer.history.filter(serial="00123").latest("history_id")
    assert (last.history_type, last.history_user) == ("-", people["manager"])
    assert last.history_change_reason == f"import {run.pk} undone"
    assert Owner.objects.filter(pk=owner.pk).exists()
    assert looked_at(LIST).found["kinds"]["new"] == 4


def test_a_second_press_does_nothing(run, people, now):
    undo_import(run, people["manager"], now)
    count = Analyzer.history.count()
    assert undo_import(run, people["manager"], now).undone_at == now
    assert Analyzer.history.count() == count


def test_what_was_never_done_is_not_undone(looked_at, people, now):
    with pytest.raises(ImportRefusedError, match="never done"):
        undo_import(looked_at(LIST), people["counter"], now)


def job_of(analyzer, now):
    return Job.objects.create(number="J-2026-1", owner=analyzer.owner, analyzer=analyzer, opened_at=now)


BUILT = {
    "a job": (lambda unit, now: job_of(unit("00123"), now), "has a job"),
    "a cell": (lambda unit, now: Cell.objects.create(analyzer=unit("00123"), gas="o2"), "has a cell"),
    "a change": (lambda unit, now: unit("00123").save(), "changed since"),
    "a due date": (lambda unit, now: Obligation.objects.create(analyzer=unit("00123")), "has an obligation"),
    "a changed due date": (lambda unit, now: unit("00123").obligations.get().save(), "dates that were changed"),
}


@pytest.mark.parametrize("what", BUILT)
def test_what_is_built_upon_refuses_and_names_itself(run, unit, people, now, what):
    build, words = BUILT[what]
    build(unit, now)
    before = rows()
    with pytest.raises(BuiltUponError, match="nothing was taken back"):
        undo_import(run, people["counter"], now)
    assert rows() == before
    assert any("00123" in line and words in line for line in in_words(run, standing(run)))


@pytest.mark.parametrize("what", BUILT)
def test_the_rest_goes_when_it_was_chosen(run, unit, people, now, what):
    BUILT[what][0](unit, now)
    done = undo_import(run, people["counter"], now, leave_used=True)
    assert {one.serial for one in Analyzer.objects.all()} == {"00123"}
    kept = unit("00123")
    assert kept.obligations.exists()
    assert kept.owner.contacts.count() == 1
    assert kept.owner.addresses.count() == 1
    assert {one.name for one in Owner.objects.all()} == {"Birch (invented)", "Tidewater Heating (invented)"}
    assert done.found["left"]["analyzers"] == 1
    assert not OwnerContact.objects.filter(name="Bo Quay (invented)").exists()


@pytest.mark.parametrize("what", ["an analyzer", "a person", "a login", "a changed person", "a merged owner"])
def test_an_owner_that_is_in_use_stays(run, people, now, what):
    birch = Owner.objects.get(name="Birch (invented)")
    if what == "an analyzer":
        Analyzer.objects.create(owner=birch, make="Orrin", model="Orrin 5", serial="by hand")
    elif what == "a person":
        OwnerContact.objects.create(owner=birch, name="By Hand (invented)")
    elif what == "a login":
        Person.objects.create_user("birch", role="owner", owner=birch)
    elif what == "a changed person":
        birch.contacts.get().save()
    else:
        Owner.objects.create(name="Old (invented)", merged_into=birch)
    with pytest.raises(BuiltUponError):
        undo_import(run, people["counter"], now)
    undo_import(run, people["counter"], now, leave_used=True)
    assert Owner.objects.filter(pk=birch.pk).exists()
    assert birch.contacts.filter(name="Ann Birch (invented)").exists()
    assert not Analyzer.objects.filter(serial__in=["00124", "00777", "00888"]).exists()


def test_what_was_removed_by_hand_since_is_no_hindrance(run, unit, people, now):
    unit("00124").delete()
    undo_import(run, people["counter"], now)
    assert not Analyzer.objects.exists()
