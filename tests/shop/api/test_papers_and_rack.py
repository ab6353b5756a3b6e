"""Papers, references and search through the API."""

import datetime as dt
import hashlib

import pytest

from flueproof.shop.records.keeping.blobs import keep_blob
from flueproof.shop.records.models import GaugeReading, Owner, Paper, PaperFile, Person, Reference
from flueproof.shop.records.visits.opening import open_visit


@pytest.fixture
def paper(job, people, shop, now):
    made = Paper.objects.create(
        number="FP-2026-00017",
        kind="certificate",
        job=job,
        visit=open_visit(job, people["technician"], now, shop),
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
    PaperFile.objects.create(paper=made, name="certificate.pdf", blob=keep_blob(b"%PDF-1.7 x", "application/pdf", now))
    return made


@pytest.fixture
def cylinder(db):
    content = {
        "kind": "test-gas",
        "certificate": "C-9",
        "balance": "nitrogen",
        "components": {"co": {"unit": "ppm", "value": 500, "stated_accuracy_pct": 2}},
        "certified": "2026-01-10",
        "expires": "2028-01-10",
    }
    row = Reference.objects.create(
        code="CYL/7041",
        kind="test-gas",
        title="CO 500 ppm",
        content=content,
        state="in-use",
        water_volume_l=10.0,
        fill_kpa=13000,
    )
    GaugeReading.objects.create(reference=row, kpa=9000.0, at=dt.datetime(2026, 1, 11, tzinfo=dt.UTC))
    return row


def test_papers_are_listed_and_one_shows_its_files(call, paper):
    (row,) = call("get", f"/papers?job={paper.job.number}").json()["rows"]
    assert row["number"] == paper.number
    one = call("get", f"/papers/{paper.number}").json()
    assert {**one, "files": None} == {**row, "files": None}
    assert one["files"] == [
        {
            "name": "certificate.pdf",
            "media_type": "application/pdf",
            "size": 10,
            "sha256": hashlib.sha256(b"%PDF-1.7 x").hexdigest(),
        }
    ]
    assert call("get", "/papers?owner=999").json()["rows"] == []


def test_an_amended_paper_names_the_old_one_and_the_old_one_the_new(call, paper):
    Paper.objects.create(
        **{
            name: getattr(paper, name)
            for name in (
                "kind", "job", "visit", "outcome", "record_position", "record_hash", "record", "judgement",
                "rules", "issued_on", "signed_at", "signer", "signer_name",
            )
        },
        number="FP-2026-00018",
        amends=paper,
        amended_why="name misspelled",
    )  # fmt: skip
    newer, older = call("get", "/papers").json()["rows"]
    assert (newer["amends"], newer["amended_why"]) == (paper.number, "name misspelled")
    assert older["amended_by"] == "FP-2026-00018"


def test_a_file_comes_with_its_bytes(call, paper):
    answer = call("get", f"/papers/{paper.number}/files/certificate.pdf")
    assert answer.content == b"%PDF-1.7 x"
    assert answer["Content-Type"] == "application/pdf"
    assert 'filename="FP-2026-00017-certificate.pdf"' in answer["Content-Disposition"]


@pytest.mark.parametrize("path", ["/papers/FP-9", "/papers/FP-2026-00017/files/other.pdf", "/references/none"])
def test_what_is_not_there_is_not_found(call, paper, path):
    assert call("get", path).status_code == 404


def test_a_token_whose_person_became_an_owner_sees_only_that_owners_papers(call, paper, people):
    Person.objects.create_user("boss", role="manager")
    people["manager"].role, people["manager"].owner = "owner", Owner.objects.create(name="Granite (invented)")
    people["manager"].save()
    assert call("get", "/papers").json()["rows"] == []
    assert call("get", f"/papers/{paper.number}").status_code == 404
    assert call("get", "/jobs").status_code == 403


def test_a_cylinder_shows_what_is_left_in_it(call, cylinder):
    one = call("get", "/references/CYL/7041").json()
    assert 700 < one["left"]["litres"] < 900
    assert one["left"]["tests"] > 100
    assert "9,000 kPa" in one["left"]["rests_on"]
    assert one["content"]["certificate"] == "C-9"


def test_references_are_narrowed_by_state_and_kind(call, cylinder):
    Reference.objects.create(code="T-1", kind="thermometer", title="Probe", content={})
    assert [row["code"] for row in call("get", "/references?state=in-use").json()["rows"]] == ["CYL/7041"]
    assert [row["code"] for row in call("get", "/references?kind=thermometer").json()["rows"]] == ["T-1"]
    assert call("get", "/references/T-1").json()["left"] is None


def test_search_finds_what_the_one_box_finds_and_says_where_it_stands(call, job, analyzer, cylinder, paper):
    hits = call("get", "/search?q=J-2026-00042").json()["hits"]
    assert hits == [{"kind": "job", "title": job.number, "path": f"/jobs/{job.number}", "exact": True}]
    assert call("get", "/search?q=417").json()["hits"][0]["path"] == f"/analyzers/{analyzer.pk}"
    for typed in ("tidewater", "555-0100", "FP-2026-00017", "7041"):
        for hit in call("get", f"/search?q={typed}").json()["hits"]:
            assert call("get", hit["path"]).status_code == 200
    assert call("get", "/search").status_code == 422


def test_a_token_says_what_it_is(caller_with, shop):
    told = caller_with("see-jobs")("get", "/token").json()
    assert told == {"name": "a program", "rights": ["see-jobs"], "shop": shop.name}
