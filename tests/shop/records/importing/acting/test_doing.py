"""Doing an import: what the dry run said, in one transaction, once."""

import datetime as dt

import pytest

from flueproof.shop.records.importing.acting import doing
from flueproof.shop.records.importing.acting.doing import do_import
from flueproof.shop.records.importing.errors import ChangedMeanwhileError, ImportRefusedError
from flueproof.shop.records.importing.runs import change_understanding, take_file, understanding_of_run
from flueproof.shop.records.importing.understanding.columns import Understanding
from flueproof.shop.records.models import Analyzer, ImportRun, Obligation, Owner, OwnerAddress, OwnerContact, SearchKey

HEAD = "Customer,Contact,Phone,Street,City,Make,Model,Serial,Last cal.,Cal due,Months,Agreed by\n"
BIRCH = "Birch Heating (invented),Ann Birch (invented),555-0111,1 Elm,Port Alder"
LIST = (
    f"{HEAD}{BIRCH},Orrin,Orrin 5,00123,2026-01-05,2027-01-05,,Ann\n"
    f"{BIRCH},Orrin,Orrin 5,00124,,,24,\n"
    "Tidewater Heating (invented),,,,,Orrin,Orrin 5,O5-20417,,,,\n"
    "Tidewater Heating (invented),,,,,Orrin,Orrin 5,05-20417,,,,\n"
)


def test_what_the_dry_run_found_is_made(looked_at, analyzer, people, now):
    run = looked_at(LIST)
    assert {kind: count for kind, count in run.found["kinds"].items() if count} == {
        "new": 2,
        "there": 1,
        "lookalike": 1,
    }
    done = do_import(run, people["counter"], now)
    assert done.done_at == now
    made = Analyzer.objects.get(serial="00123")
    assert (made.owner.name, made.serial_key, made.lookalike) == ("Birch Heating (invented)", "00123", "00123")
    assert str(made.owner.contacts.get()) == "Ann Birch (invented)"
    assert made.owner.contacts.get().phone_key == "5550111"
    assert str(made.owner.addresses.get()) == "1 Elm, Port Alder"
    due = made.obligations.get()
    assert (due.last_done, due.next_due, due.months, due.agreed_by) == (
        dt.date(2026, 1, 5),
        dt.date(2027, 1, 5),
        12,
        "Ann",
    )
    assert Analyzer.objects.get(serial="00124").obligations.get().what == "verification every 24 months"
    assert Owner.objects.count() == 2


def test_the_history_names_the_import_the_person_and_the_time(imported, people, now):
    run = imported(LIST)
    for model in (Owner, OwnerContact, OwnerAddress, Analyzer, Obligation):
        row = model.objects.order_by("pk").last()
        kept = row.history.get()
        assert (kept.history_type, kept.history_user, kept.history_date) == ("+", people["counter"], now)
        assert kept.history_change_reason == f"import {run.pk}: owners.csv"
        assert kept.version == row.version == 1
        assert kept.instance == row


def test_what_was_imported_has_search_keys(imported):
    imported(LIST)
    made = Analyzer.objects.get(serial="00123")
    assert SearchKey.objects.filter(kind="analyzer", target=made.pk, key="00123").exists()
    assert SearchKey.objects.filter(kind="owner", target=made.owner_id, key="birch").exists()
    assert SearchKey.objects.filter(kind="contact", target=made.owner.contacts.get().pk).exists()


def test_a_second_press_does_nothing(imported, people, now):
    run = imported(LIST)
    count = Analyzer.history.count()
    assert do_import(run, people["manager"], now).done_at == now
    assert do_import(ImportRun.objects.get(), people["manager"], now).done_at == now
    assert Analyzer.history.count() == count


def test_the_same_list_again_finds_everything_there(imported, looked_at):
    imported(LIST)
    again = looked_at(LIST)
    assert again.found["makes"] == {}
    assert again.found["kinds"]["there"] == 3


def test_of_two_imports_at_once_the_second_is_looked_at_anew(looked_at, people, now):
    first, second = looked_at(LIST), looked_at(LIST)
    do_import(first, people["counter"], now)
    with pytest.raises(ChangedMeanwhileError, match="nothing was imported"):
        do_import(second, people["manager"], now)
    assert Analyzer.objects.count() == 3
    second.refresh_from_db()
    assert (second.done_at, second.found["makes"]) == (None, {})


def test_a_plate_that_somebody_adds_between_look_and_write_undoes_all(looked_at, people, now, owner, monkeypatch):
    run, seen = looked_at(LIST), doing.findings

    def meanwhile(*given):
        for batch in seen(*given):
            Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="00124")
            yield batch

    monkeypatch.setattr(doing, "findings", meanwhile)
    with pytest.raises(ChangedMeanwhileError):
        do_import(run, people["counter"], now)
    assert not Analyzer.objects.exists()
    assert not Owner.objects.filter(name__startswith="Birch").exists()


def test_all_or_nothing(looked_at, people, now, monkeypatch):
    run = looked_at(LIST)
    monkeypatch.setattr(doing.Writer, "write", _half(doing.Writer.write))
    with pytest.raises(OSError, match="the plug"):
        do_import(run, people["counter"], now)
    assert not Analyzer.objects.exists()
    assert not OwnerContact.objects.filter(name__startswith="Ann").exists()
    run.refresh_from_db()
    assert run.done_at is None


def _half(write):
    def broken(self, findings):
        write(self, findings)
        raise OSError("the plug")

    return broken


def test_nothing_is_done_before_dates_and_zeros_are_settled(looked_at, people, now):
    run = looked_at(LIST.replace("2026-01-05", "2/4/95"))
    with pytest.raises(ImportRefusedError, match="1 row has a date that can be read in two ways"):
        do_import(run, people["counter"], now)
    told = understanding_of_run(run)
    run = change_understanding(run, Understanding(told.columns, date_order="mdy"), people["counter"], now)
    do_import(run, people["counter"], now)
    assert Analyzer.objects.get(serial="00123").obligations.get().last_done == dt.date(1995, 2, 4)


def test_an_empty_look_and_a_list_without_news_are_refused(people, now, shop, imported, looked_at):
    fresh = take_file(LIST.encode(), "owners.csv", people["counter"], now)
    with pytest.raises(ImportRefusedError, match="which column is what"):
        do_import(fresh, people["counter"], now)
    imported(LIST)
    with pytest.raises(ImportRefusedError, match="Nothing in the list is new"):
        do_import(looked_at(LIST), people["counter"], now)


def test_an_import_that_is_done_is_not_read_in_another_way(imported, people, now):
    run = imported(LIST)
    with pytest.raises(ImportRefusedError, match="This import is done"):
        change_understanding(run, understanding_of_run(run), people["counter"], now)


def test_two_thousand_five_hundred_rows_come_in_batches(imported, looked_at):
    rows = (f"Firm {n // 3} (invented),P {n // 3},,,,Orrin,Orrin 5,N4{n:06d},,,,\n" for n in range(2500))
    run = imported(HEAD + "".join(rows))
    assert run.found["makes"] == {"owner": 834, "contact": 834, "analyzer": 2500}
    assert Analyzer.objects.filter(serial__startswith="N4").count() == 2500
    assert Analyzer.objects.get(serial="N4002499").owner.name == "Firm 833 (invented)"
    assert sum(last - first + 1 for first, last in run.made["analyzers"]) == 2500
