"""Search keys follow the rows: every save, every deletion, every bulk write that says so."""

from io import StringIO

import pytest
from django.core.management import call_command
from django.db import connection

from flueproof.shop.records.finding.indexing import reindex
from flueproof.shop.records.finding.searching import search
from flueproof.shop.records.finding.texts import keys_of
from flueproof.shop.records.models import Analyzer, Owner, OwnerContact, SearchKey


def test_a_changed_name_is_found_and_the_old_one_is_not(owner):
    owner.name = "Granite Boilers (invented)"
    owner.save()
    assert search("granite").count == 1
    assert search("tidewater").count == 0 or all(
        hit.row != owner for group in search("tidewater").groups for hit in group.hits
    )


def test_a_deleted_contact_is_not_found(owner):
    contact = OwnerContact.objects.create(owner=owner, name="Bo Marsh (invented)", phone="555-0199")
    assert search("0199").count == 1
    contact.delete()
    assert search("0199").count == 0


def test_a_save_that_changes_no_key_writes_no_key(job, django_assert_num_queries):
    before = list(SearchKey.objects.filter(kind="job").values_list("pk", flat=True))
    job.complaint = "shows ---"
    job.save()
    assert list(SearchKey.objects.filter(kind="job").values_list("pk", flat=True)) == before


def test_rows_written_in_bulk_are_found_after_reindex(owner):
    rows = [Analyzer(owner=owner, make="Vell", model="Vell 2", serial=f"V2-{i:05d}") for i in range(3)]
    for row in rows:
        row.fill_keys()
    made = Analyzer.objects.bulk_create(rows)
    assert search("V2-00001").count == 0
    assert reindex(made) == 3
    assert search("V2-00001").straight.row == made[1]
    assert reindex(made) == 3
    assert SearchKey.objects.filter(kind="analyzer", target=made[0].pk).count() == len(keys_of(made[0]))


def test_rows_that_are_not_searched_are_passed_over(owner, people):
    assert reindex([people["counter"], owner]) == 1


def test_the_command_writes_all_keys_anew(owner, analyzer, job):
    before = set(SearchKey.objects.values_list("key", "kind", "target", "weight"))
    SearchKey.objects.all().delete()
    SearchKey.objects.create(key="stray", kind="job", target=job.pk)
    out = StringIO()
    call_command("reindex", stdout=out)
    assert set(SearchKey.objects.values_list("key", "kind", "target", "weight")) == before
    assert "analyzer: 1 rows" in out.getvalue()


def test_keys_lie_in_the_order_of_their_bytes_on_both_databases(db):
    for name in ("Zed", "ada", "éclair", "Ärger", "łódka", "10 Fires"):
        Owner.objects.create(name=name)
    SearchKey.objects.create(key="~", kind="owner", target=1)
    SearchKey.objects.create(key="Z", kind="owner", target=1)
    keys = list(SearchKey.objects.order_by("key").values_list("key", flat=True))
    assert keys == sorted(keys, key=str.encode)


def test_a_search_is_a_range_of_the_index(db):
    queries = SearchKey.objects.filter(kind="job", key__gte="2026", key__lt="2026\U0010ffff").order_by(
        "key", "-weight", "-target"
    )
    # Enough rows to choose by: of a table that is nearly empty PostgreSQL reads what it likes.
    kinds = ("job", "analyzer", "owner")
    SearchKey.objects.bulk_create(
        SearchKey(kind=kinds[number % 3], key=f"{2000 + number % 40}{number:06}", target=number)
        for number in range(6000)
    )
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
    plan = queries[:10].explain()
    assert "search_range" in plan
    assert "Sort" not in plan
    assert "TEMP B-TREE" not in plan


@pytest.mark.parametrize("serial", ["", " ", "-"])
def test_a_serial_without_letters_and_digits_has_no_keys(owner, serial):
    row = Analyzer.objects.create(owner=owner, make="Vell", model="Vell 2", serial=serial)
    assert keys_of(row) == set()
