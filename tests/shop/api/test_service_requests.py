"""Service requests through the API: kept once, confirmed by mail or by the sender, and become jobs."""

import pytest

from flueproof.shop.records.models import Analyzer, Job, Letter, RequestedAnalyzer, ServiceRequest

from .test_openapi import fits_its_schema

ASKED = {
    "firm": "Quayside Air (invented)",
    "contact": "Ben Holm (invented)",
    "email": "ben@quayside.example",
    "town": "Harbor",
    "analyzers": [
        {"make": "Orrin", "model": "Orrin 5", "serial": "O5-20417", "complaint": "CO jumps", "enclosed": ["probe"]},
        {
            "model": "Orrin 2",
            "service": "repair",
            "spend_up_to": "240.50",
            "accidents": ["wet"],
            "limits": {"co_ppm": 10, "co_percent": 5, "o2": 0.3},
        },
    ],
}


def asked(**changed):
    return {**ASKED, **changed}


def test_one_is_kept_word_for_word_and_its_owner_gets_the_mail_to_confirm(call, people):
    answer = call("post", "/requests", ASKED)
    assert answer.status_code == 201
    assert fits_its_schema("post", "/requests", answer)
    told = answer.json()
    assert (told["state"], told["source"], told["firm"]) == ("unconfirmed", "counter", ASKED["firm"])
    first, second = told["analyzers"]
    assert (first["serial"], first["complaint"], first["enclosed"]) == ("O5-20417", "CO jumps", ["probe"])
    assert (second["spend_up_to"], second["accidents"]) == ("240.50", ["wet"])
    assert second["limits"] == {
        "co": {"absolute": 10.0, "unit": "ppm", "percent": 5.0, "of": "reference"},
        "o2": {"absolute": 0.3, "unit": "%"},
    }
    letter = Letter.objects.get()
    assert (letter.kind, letter.to) == ("confirm-request", "ben@quayside.example")
    assert "http://testserver/" in letter.text
    row = ServiceRequest.objects.get()
    assert row.history.first().history_user == people["manager"]


def test_the_same_request_with_the_same_key_is_one(call):
    first = call("post", "/requests", ASKED, Idempotency_Key="order-1")
    again = call("post", "/requests", ASKED, Idempotency_Key="order-1")
    assert first.json() == again.json()
    assert again.headers["Idempotency-Replayed"] == "true"
    assert (ServiceRequest.objects.count(), Letter.objects.count()) == (1, 1)


def test_one_that_the_sender_vouches_for_is_confirmed_and_becomes_a_job(call, analyzer):
    told = call("post", "/requests", asked(confirmed=True, owner=analyzer.owner_id)).json()
    assert told["state"] == "confirmed"
    assert told["owner"] == analyzer.owner_id
    assert Letter.objects.get().kind == "request-received"
    answer = call("post", f"/requests/{told['code']}/jobs", {}, Idempotency_Key="jobs")
    again = call("post", f"/requests/{told['code']}/jobs", {}, Idempotency_Key="jobs")
    assert answer.json() == again.json()
    assert fits_its_schema("post", f"/requests/{told['code']}/jobs", answer)
    assert [row["how"] for row in answer.json()["rows"]] == ["opened", "left"]
    job = Job.objects.get()
    assert (job.number, job.complaint) == (answer.json()["rows"][0]["job"], "CO jumps")
    listed = call("get", f"/requests/{told['code']}").json()
    assert [one["job"] for one in listed["analyzers"]] == [job.number, None]


def test_what_is_not_on_file_is_put_there_where_its_slip_is_named(call, owner):
    body = asked(confirmed=True, owner=owner.pk, analyzers=[{"make": "Orrin", "model": "Orrin 2", "serial": "O2-9"}])
    told = call("post", "/requests", body).json()
    path = f"/requests/{told['code']}/jobs"
    assert call("post", path, {"add": ["no slip"]}).status_code == 422
    rows = call("post", path, {"add": [told["analyzers"][0]["slip"]]}).json()["rows"]
    assert [row["how"] for row in rows] == ["opened"]
    assert Analyzer.objects.get(serial="O2-9").owner == owner


def test_confirming_and_withdrawing_are_done_once_and_refused_where_it_is_too_late(call, analyzer):
    code = call("post", "/requests", ASKED).json()["code"]
    assert call("post", f"/requests/{code}/jobs", {}).status_code == 409
    for _ in range(2):
        answer = call("post", f"/requests/{code}/confirm")
        assert (answer.status_code, answer.json()["state"]) == (200, "confirmed")
    assert Letter.objects.filter(kind="request-received").count() == 1
    call("post", f"/requests/{code}/jobs", {})
    late = call("post", f"/requests/{code}/withdraw", {"why": "asked twice"})
    assert late.status_code == 409
    assert late.json()["current"]["code"] == code
    assert fits_its_schema("post", f"/requests/{code}/withdraw", late)

    other = call("post", "/requests", ASKED).json()["code"]
    for _ in range(2):
        assert call("post", f"/requests/{other}/withdraw", {"why": "asked twice"}).json()["state"] == "withdrawn"
    assert call("post", f"/requests/{other}/confirm").status_code == 409
    assert not ServiceRequest.objects.get(code=other).links.filter(used_at=None, withdrawn_at=None).exists()


@pytest.mark.parametrize(
    ("changed", "where"),
    [
        ({"email": ""}, "email"),
        ({"email": "no address"}, "email"),
        ({"email": "a@b.example\nBcc: c@d.example"}, "email"),
        ({"firm": "", "contact": ""}, ""),
        ({"town": ""}, ""),
        ({"firm": "x" * 201}, "firm"),
        ({"firm": "a\0b"}, "firm"),
        ({"owner": 999}, "owner"),
        ({"analyzers": []}, "analyzers"),
        ({"analyzers": [{"model": "Orrin 5"}] * 50}, "analyzers"),
        ({"analyzers": [{"make": "Orrin"}]}, "analyzers.0.model"),
        ({"analyzers": [{"model": "O", "service": "repair"}]}, ""),
        ({"analyzers": [{"model": "O", "enclosed": ["x" * 61]}]}, "analyzers.0.enclosed.0"),
        ({"analyzers": [{"model": "O", "spend_up_to": "NaN"}]}, "analyzers.0.spend_up_to"),
        ({"analyzers": [{"model": "O", "complaint": "\ud800"}]}, "analyzers.0.complaint"),
    ],
)
def test_what_is_wrong_is_named_and_nothing_is_kept(call, changed, where):
    answer = call("post", "/requests", asked(**changed))
    assert (answer.status_code, answer.json()["error"]["where"]) == (422, where)
    assert not ServiceRequest.objects.exists()
    assert not Letter.objects.exists()


def test_they_are_listed_the_newest_first_and_narrowed(call):
    codes = [call("post", "/requests", asked(firm=f"Firm {number}")).json()["code"] for number in range(3)]

    def found(query):
        return [row["code"] for row in call("get", f"/requests?{query}").json()["rows"]]

    assert found("") == codes[::-1]
    first = call("get", "/requests?limit=2").json()
    assert [row["code"] for row in first["rows"]] == codes[:0:-1]
    assert found(f"limit=2&after={first['next']}") == codes[:1]
    assert found("state=confirmed") == []
    assert found("serial=o5-20417") == codes[::-1]
    assert call("get", "/requests?serial=%00").status_code == 422
    assert call("get", "/requests/R-NONE").status_code == 404


def test_reading_is_not_changing(caller_with, call):
    code = call("post", "/requests", ASKED).json()["code"]
    reader = caller_with("see-jobs")
    assert reader("get", f"/requests/{code}").status_code == 200
    for path, body in (
        ("", ASKED),
        (f"/{code}/confirm", None),
        (f"/{code}/withdraw", {"why": "x"}),
        (f"/{code}/jobs", {}),
    ):
        assert reader("post", f"/requests{path}", body).status_code == 403
    assert RequestedAnalyzer.objects.count() == 2
