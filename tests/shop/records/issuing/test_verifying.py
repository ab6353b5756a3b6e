"""Every kind of tampering that can reach a kept paper is found."""

import hashlib
import json

import pytest
from django.db import connection

from flueproof.shop.records.issuing.verifying import verify_paper
from flueproof.shop.records.keeping.append_only import make_append_only, trigger_name
from flueproof.shop.records.models import Blob, Paper, PaperMoment


@pytest.fixture
def paper(visit_of, signed):
    return Paper.objects.get(pk=signed(visit_of("healthy")).pk)


@pytest.fixture
def past_the_triggers(db):
    """Return a function that runs SQL as somebody would who got past the program and the triggers."""

    def run(table, statement, values):
        on = f" ON {table}" if connection.vendor == "postgresql" else ""
        with connection.cursor() as cursor:
            cursor.execute(f'DROP TRIGGER "{trigger_name(table, "UPDATE")}"{on}')
            cursor.execute(statement, values)
        make_append_only(connection)

    return run


def wrong(paper, people, now):
    fresh = Paper.objects.get(pk=paper.pk)
    return [one.what for one in verify_paper(fresh, people["counter"], now) if one.agrees is False]


def test_a_paper_as_it_was_kept_agrees(paper, people, now):
    assert wrong(paper, people, now) == []
    assert not PaperMoment.objects.exists()


def test_changed_bytes(paper, people, now, past_the_triggers):
    kept = paper.files.get(name="certificate.pdf").blob
    past_the_triggers(
        "records_blob",
        "UPDATE records_blob SET content = %s WHERE sha256 = %s",
        [bytes(kept.content).replace(b"O", b"0", 1), kept.pk],
    )
    assert wrong(paper, people, now) == ["certificate.pdf"]
    assert PaperMoment.objects.get().what == "found not to agree"


def test_another_file_put_in_the_place_of_one(paper, people, now, past_the_triggers):
    forged = b"%PDF-1.7 forged"
    digest = hashlib.sha256(forged).hexdigest()
    Blob.objects.create(sha256=digest, media_type="application/pdf", size=len(forged), content=forged, added_at=now)
    past_the_triggers(
        "records_paperfile",
        "UPDATE records_paperfile SET blob_id = %s WHERE paper_id = %s AND name = 'certificate.pdf'",
        [digest, paper.pk],
    )
    assert wrong(paper, people, now) == ["issue.json against the files"]


def test_a_record_row_changed_after_the_signature(paper, people, now, past_the_triggers):
    event = paper.visit.events.filter(kind="step").order_by("position").first()
    body = event.body.replace('"humidity_pct":', '"humidity_pct":1')
    assert body != event.body
    past_the_triggers("records_benchevent", "UPDATE records_benchevent SET body = %s WHERE id = %s", [body, event.pk])
    assert wrong(paper, people, now) == [f"the bench record up to row {paper.record_position}"]


def test_a_stored_judgement_made_kinder(paper, people, now, past_the_triggers):
    kinder = json.loads(json.dumps(paper.judgement))
    kinder["points"][0]["error"] /= 2
    past_the_triggers(
        "records_paper", "UPDATE records_paper SET judgement = %s WHERE id = %s", [json.dumps(kinder), paper.pk]
    )
    assert wrong(paper, people, now) == ["judgement.json"]


def test_a_stored_record_changed(paper, people, now, past_the_triggers):
    text = paper.record.replace("O5-20001", "O5-20007")
    past_the_triggers("records_paper", "UPDATE records_paper SET record = %s WHERE id = %s", [text, paper.pk])
    assert "record.json" in wrong(paper, people, now)


def test_newer_rules_are_no_disagreement(paper, people, now, monkeypatch):
    monkeypatch.setattr("flueproof.shop.records.issuing.recomputing.RULES_VERSION", "2")
    found = verify_paper(paper, people["counter"], now)
    assert [one.agrees for one in found if "computed again" in one.what] == [None]
    assert wrong(paper, people, now) == []
