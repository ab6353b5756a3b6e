"""One box finds owner, phone, serial, job, certificate and cylinder; words that stand in several rows too."""

import datetime as dt

import pytest

from flueproof.shop.records.finding.searching import search
from flueproof.shop.records.models import Analyzer, Job, Owner, OwnerContact, Paper, Reference
from flueproof.shop.records.visits.opening import open_visit


@pytest.fixture
def cylinder(db):
    return Reference.objects.create(
        code="CYL-7041",
        kind="test-gas",
        title="CO 500 ppm in nitrogen",
        content={"lot": "L88213", "certificate": "C-9"},
    )


@pytest.fixture
def paper(job, people, shop, now):
    visit = open_visit(job, people["technician"], now, shop)
    return Paper.objects.create(
        number="FP-2026-00017",
        kind="certificate",
        job=job,
        visit=visit,
        outcome="ready-to-sign",
        record_position=1,
        record_hash="0" * 64,
        record="{}",
        judgement={},
        rules="1",
        issued_on=dt.date(2026, 11, 25),
        signed_at=now,
        signer=people["signer"],
        signer_name="S. Alder",
    )


def names(found):
    return [(group.kind, str(hit.row)) for group in found.groups for hit in group.hits]


@pytest.mark.parametrize(
    ("typed", "kind", "row"),
    [
        ("tidewater", "owner", "Tidewater Heating (invented)"),
        ("Heat", "owner", "Tidewater Heating (invented)"),
        ("555-0100", "contact", "Ada Quay (invented)"),
        ("0100", "contact", "Ada Quay (invented)"),
        ("555 0100", "contact", "Ada Quay (invented)"),
        ("+1 212 555 0100", "contact", "Ada Quay (invented)"),
        ("ada@tide", "contact", "Ada Quay (invented)"),
        ("O5-20417", "analyzer", "Orrin 5 O5-20417"),
        ("O5 20417", "analyzer", "Orrin 5 O5-20417"),
        ("o52o4i7", "analyzer", "Orrin 5 O5-20417"),
        ("417", "analyzer", "Orrin 5 O5-20417"),
        ("J-2026-00042", "job", "J-2026-00042"),
        ("42", "job", "J-2026-00042"),
        ("FP-2026-00017", "paper", "FP-2026-00017"),
        ("fp 2026 17", "paper", "FP-2026-00017"),
        ("CYL-7041", "reference", "CYL-7041 CO 500 ppm in nitrogen"),
        ("704", "reference", "CYL-7041 CO 500 ppm in nitrogen"),
        ("nitrogen", "reference", "CYL-7041 CO 500 ppm in nitrogen"),
        ("88213", "reference", "CYL-7041 CO 500 ppm in nitrogen"),
    ],
)
def test_each_thing_is_found_by_what_people_type(cylinder, paper, typed, kind, row):
    assert (kind, row) in names(search(typed))


def test_words_of_different_rows_find_the_row_that_joins_them(owner, analyzer, job):
    other = Owner.objects.create(name="Harrow Burner Service (invented)")
    Analyzer.objects.create(owner=other, make="Orrin", model="Orrin 5", serial="K2-30417")
    assert len([one for one in names(search("417")) if one[0] == "analyzer"]) == 2
    assert names(search("tidewater 417")) == [("analyzer", "Orrin 5 O5-20417")]
    assert names(search("417 harrow")) == [("analyzer", "Orrin 5 K2-30417")]
    assert names(search("tidewater 42")) == [("job", job.number)]
    assert names(search("harrow 42")) == []


def test_words_of_one_name_find_only_rows_with_all_of_them(db):
    Owner.objects.create(name="Tidewater Heating (invented)")
    Owner.objects.create(name="Tidewater Plumbing (invented)")
    assert names(search("tide heat")) == [("owner", "Tidewater Heating (invented)")]
    assert names(search("heating tidewater invented")) == [("owner", "Tidewater Heating (invented)")]
    assert names(search("tide zzz")) == []


@pytest.mark.parametrize("typed", ["J-2026-00042", "j-2026-00042", "O5-20417", "FP-2026-00017", "CYL-7041"])
def test_a_scan_of_a_whole_number_leads_straight_to_one_row(cylinder, paper, typed):
    assert typed.upper() in str(search(typed).straight.row)


@pytest.mark.parametrize("typed", ["42", "417", "tidewater", "O5-2O417", ""])
def test_anything_less_leads_nowhere_by_itself(cylinder, paper, typed):
    assert search(typed).straight is None


def test_the_same_serial_of_two_makes_leads_nowhere_by_itself(owner, analyzer):
    Analyzer.objects.create(owner=owner, make="Vell", model="Vell 2", serial=analyzer.serial)
    found = search(analyzer.serial)
    assert found.straight is None
    assert found.count == 2


def test_what_was_typed_is_marked_where_it_stands(analyzer):
    (hit,) = search("204").groups[0].hits
    assert hit.matches[0].label == "serial"
    assert hit.matches[0].parts == (("O5-", False), ("204", True), ("17", False))


def test_the_newest_job_of_a_short_number_comes_first(owner, analyzer, job, now):
    Job.objects.create(number="J-2027-00042", owner=owner, analyzer=analyzer, opened_at=now)
    assert [row for _, row in names(search("42"))][:2] == ["J-2027-00042", "J-2026-00042"]


def test_a_long_list_is_cut_and_says_so(db):
    for i in range(5):
        Owner.objects.create(name=f"Tide {i} (invented)")
    (group,) = search("tide", each=3).groups
    assert len(group.hits) == 3
    assert group.more


def test_an_exact_hit_comes_before_others(owner, analyzer, now):
    Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="20417")
    groups = search("20417").groups
    assert str(groups[0].hits[0].row) == "Orrin 5 20417"
    assert groups[0].hits[0].exact


@pytest.mark.parametrize("typed", ["", "   ", "'", "%", "_", "\\", "☃", "\x00", "a" * 500, "a b c d e f g h", "-" * 40])
def test_nothing_typed_breaks_it(owner, typed):
    assert search(typed).groups == () or search(typed).count


def test_a_contact_is_found_with_the_name_of_its_firm(owner):
    OwnerContact.objects.create(owner=owner, name="Bo Marsh (invented)", phone="555-0199")
    assert ("contact", "Bo Marsh (invented)") in names(search("marsh tidewater"))


def test_the_number_of_questions_to_the_database_is_small(cylinder, paper, django_assert_max_num_queries):
    with django_assert_max_num_queries(20):
        assert search("0") is not None
    with django_assert_max_num_queries(40):
        assert search("tidewater 417") is not None
