"""Quotes through the API: written from the list or in words, sent, and decided once."""

from decimal import Decimal

import pytest

from flueproof.shop.records.models import Job, Letter, PriceItem, Quote

from .test_openapi import fits_its_schema


@pytest.fixture
def cell(db):
    return PriceItem.objects.create(code="CO-CELL", words="CO cell", kind="part", price=Decimal("180.00"))


@pytest.fixture
def body(cell):
    return {
        "words": "The CO cell is used up.",
        "lines": [{"item": "CO-CELL"}, {"words": "Fitting", "price": "65.25", "count": "1.5"}],
    }


def test_one_is_written_sent_and_approved_and_the_job_goes_on(call, job, body):
    answer = call("post", f"/jobs/{job.number}/quotes", body)
    assert answer.status_code == 201
    assert fits_its_schema("post", f"/jobs/{job.number}/quotes", answer)
    quote = answer.json()
    assert (quote["state"], quote["total"], quote["job"]) == ("draft", "277.88", job.number)
    assert [line["words"] for line in quote["lines"]] == ["CO cell", "Fitting"]
    path = f"/quotes/{quote['number']}"
    for _ in range(2):
        assert call("post", f"{path}/send").json()["state"] == "sent"
    assert Letter.objects.filter(kind="quote").count() == 1
    assert Job.objects.get().state == "held"
    said = {"said_by": "Ada Quay (invented)", "words": "go on"}
    for _ in range(2):
        told = call("post", f"{path}/approve", said).json()
    assert (told["state"], told["decided_by"], told["decision_words"]) == ("approved", "Ada Quay (invented)", "go on")
    assert Job.objects.get().state == "arrived"
    late = call("post", f"{path}/decline", {"said_by": "Bo"})
    assert (late.status_code, late.json()["current"]["state"]) == (409, "approved")


def test_written_and_sent_at_once_with_a_key_it_is_one(call, job, body):
    for _ in range(2):
        answer = call("post", f"/jobs/{job.number}/quotes", body | {"send": True}, Idempotency_Key="q")
        assert (answer.status_code, answer.json()["state"]) == (201, "sent")
    assert Quote.objects.count() == 1


def test_one_that_is_declined_says_by_whom(call, job, body):
    number = call("post", f"/jobs/{job.number}/quotes", body | {"send": True}).json()["number"]
    told = call("post", f"/quotes/{number}/decline", {"said_by": "Ada"}).json()
    assert (told["state"], told["decided_by"]) == ("declined", "Ada")


@pytest.mark.parametrize(
    ("lines", "where"),
    [
        ([], "lines"),
        ([{"item": "NOTHING"}], "lines.0.item"),
        ([{"words": "x"}], "lines.0.price"),
        ([{"words": "x", "price": "-1"}], "lines.0.price"),
        ([{"words": "x", "price": "1.001"}], "lines.0.price"),
        ([{"words": "x", "price": "1", "count": 0}], "lines.0.count"),
        ([{"words": "", "price": "1"}], ""),
        ([{"words": "x", "price": "999999.99"}], ""),
        ([{"words": "x", "price": "1"}] * 41, "lines"),
    ],
)
def test_lines_that_make_no_sense_are_refused_and_nothing_is_kept(call, job, lines, where):
    answer = call("post", f"/jobs/{job.number}/quotes", {"lines": lines})
    assert (answer.status_code, answer.json()["error"]["where"]) == (422, where)
    assert not Quote.objects.exists()


def test_a_closed_job_gets_no_quote_and_a_draft_no_answer(call, job, body):
    number = call("post", f"/jobs/{job.number}/quotes", body).json()["number"]
    assert call("post", f"/quotes/{number}/approve", {"said_by": "Ada"}).status_code == 409
    job.refresh_from_db()
    job.state = "returned"
    job.save()
    assert call("post", f"/jobs/{job.number}/quotes", body).status_code == 409
    assert call("post", f"/quotes/{number}/send").status_code == 409


def test_they_are_listed_the_newest_first_and_narrowed(call, job, body, owner):
    numbers = [call("post", f"/jobs/{job.number}/quotes", body).json()["number"] for _ in range(2)]

    def found(query):
        return [row["number"] for row in call("get", f"/quotes?{query}").json()["rows"]]

    assert found("") == numbers[::-1]
    assert found(f"job={job.number}&owner={owner.pk}&state=draft") == numbers[::-1]
    assert found("state=sent") == []
    first = call("get", "/quotes?limit=1").json()
    assert found(f"limit=1&after={first['next']}") == numbers[:1]
    assert call("get", f"/quotes/{numbers[0]}").json()["total"] == "277.88"
    assert call("get", "/quotes/Q-9").status_code == 404


def test_reading_is_not_quoting(caller_with, call, job, body):
    number = call("post", f"/jobs/{job.number}/quotes", body).json()["number"]
    reader = caller_with("see-jobs")
    assert reader("get", f"/quotes/{number}").status_code == 200
    assert reader("post", f"/quotes/{number}/send").status_code == 403
    assert reader("post", f"/quotes/{number}/approve", {"said_by": "x"}).status_code == 403
