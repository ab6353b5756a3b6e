"""History of very many rows, written inside the database: the same as one save at a time would leave."""

import pytest
from django.db import IntegrityError, transaction

from flueproof.shop.records.models import Analyzer, Owner

WORD = "import 1: list.csv"


def unit(owner, serial):
    made = Analyzer(owner=owner, make="Orrin", model="Orrin 5", serial=serial, note="as found in a list")
    made.fill_keys()
    return made


def fields(entry):
    return {field.attname: getattr(entry, field.attname) for field in Analyzer._meta.concrete_fields}


def test_a_row_made_in_bulk_has_the_history_of_a_saved_one(owner, people, now):
    rows = Analyzer.objects.bulk_create_by((unit(owner, f"N{n}") for n in range(3)), people["manager"], WORD, now)
    saved = unit(owner, "S1")
    saved.save()
    different = {"id", "serial", "serial_key", "lookalike", "changed_at"}
    kept, other = fields(rows[0].history.get()), fields(saved.history.get())
    assert {name for name in kept if kept[name] != other[name]} <= different
    for row in rows:
        entry = row.history.get()
        assert fields(entry) == fields(Analyzer.objects.get(pk=row.pk))
        assert (entry.history_type, entry.history_user, entry.history_date) == ("+", people["manager"], now)
        assert entry.history_change_reason == WORD
        assert row.version == 1


def test_a_row_deleted_in_bulk_leaves_its_last_state(owner, people, now):
    rows = Analyzer.objects.bulk_create_by([unit(owner, "N1"), unit(owner, "N2")], people["manager"], WORD, now)
    before = fields(rows[0])
    Analyzer.objects.delete_by([rows[0].pk], people["counter"], "import 1 undone", now)
    assert [row.serial for row in Analyzer.objects.all()] == ["N2"]
    last = Analyzer.history.filter(id=before["id"]).latest("history_id")
    assert fields(last) == before
    assert (last.history_type, last.history_user, last.history_change_reason) == (
        "-",
        people["counter"],
        "import 1 undone",
    )


def test_more_rows_than_one_statement_takes(people, now):
    rows = [Owner(name=f"Firm {n} (invented)", name_key=f"firm {n} invented") for n in range(2000)]
    made = Owner.objects.bulk_create_by(rows, people["manager"], WORD, now)
    assert Owner.history.filter(history_change_reason=WORD).count() == 2000
    Owner.objects.delete_by([row.pk for row in made], people["manager"], "undone", now)
    assert Owner.history.filter(history_change_reason="undone").count() == 2000


def test_a_row_that_is_refused_leaves_no_history(analyzer, owner, people, now):
    twice = unit(owner, analyzer.serial)
    with pytest.raises(IntegrityError), transaction.atomic():
        Analyzer.objects.bulk_create_by([unit(owner, "N1"), twice], people["manager"], WORD, now)
    assert not Analyzer.history.filter(history_change_reason=WORD).exists()


def test_nothing_is_nothing(people, now):
    assert Analyzer.objects.bulk_create_by([], people["manager"], WORD, now) == []
    Analyzer.objects.delete_by([], people["manager"], WORD, now)
    assert not Analyzer.history.exists()
