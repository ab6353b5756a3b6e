"""Jobs and visits through the API."""

import datetime as dt
import json

import pytest
from django.utils import timezone

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.record.reader import record_from_json
from flueproof.shop.records.jobs.receiving import take_in
from flueproof.shop.records.models import Arrival, Job, Webhook, WebhookDelivery
from flueproof.shop.records.promises.clock import clock_of
from flueproof.shop.records.visits.events import append
from flueproof.shop.records.visits.opening import open_visit
from flueproof.shop.records.visits.projection import record_tree
from flueproof.simulate.demo import demo_records


def test_a_job_is_opened_for_an_analyzer_on_file(call, analyzer, people):
    answer = call("post", "/jobs", {"analyzer": analyzer.pk, "complaint": "CO jumps", "promised_on": "2026-12-04"})
    assert answer.status_code == 201
    row = Job.objects.get(number=answer.json()["number"])
    assert (row.owner, row.state, row.complaint) == (analyzer.owner, "requested", "CO jumps")
    assert row.moments.get().by == people["manager"]


def test_an_analyzer_with_an_open_job_gets_no_second_one(call, job, analyzer):
    answer = call("post", "/jobs", {"analyzer": analyzer.pk})
    assert answer.status_code == 409
    assert answer.json()["current"]["number"] == job.number
    assert Job.objects.count() == 1


def test_a_job_for_no_analyzer_is_refused(call):
    answer = call("post", "/jobs", {"analyzer": 999})
    assert (answer.status_code, answer.json()["error"]["where"]) == (422, "analyzer")


def test_a_request_sent_twice_opens_one_job(call, analyzer):
    first = call("post", "/jobs", {"analyzer": analyzer.pk}, Idempotency_Key="a")
    again = call("post", "/jobs", {"analyzer": analyzer.pk}, Idempotency_Key="a")
    assert first.json() == again.json()
    assert Job.objects.count() == 1


def test_a_job_is_changed_by_version(call, job):
    body = {"version": job.version, "complaint": "O2 reads low", "promised_on": None}
    answer = call("patch", f"/jobs/{job.number}", body)
    assert answer.status_code == 200
    assert (answer.json()["complaint"], answer.json()["promised_on"]) == ("O2 reads low", None)
    stale = call("patch", f"/jobs/{job.number}", {**body, "rush": True})
    assert stale.status_code == 409
    assert stale.json()["current"]["complaint"] == "O2 reads low"


def test_a_due_date_that_the_owner_did_not_agree_to_is_refused(call, job, owner):
    owner.due_agreed = False
    owner.save()
    answer = call("patch", f"/jobs/{job.number}", {"version": job.version, "due_wanted": True})
    assert (answer.status_code, answer.json()["error"]["where"]) == (422, "due_wanted")


def test_a_move_is_made_once_and_told_to_webhooks(call, job, db):
    Webhook.objects.create(url="https://books.example/", secret="s", events=[])  # noqa: S106 -- a test
    for _ in range(2):
        answer = call("post", f"/jobs/{job.number}/state", {"to": "bench"})
        assert (answer.status_code, answer.json()["state"]) == (200, "bench")
    assert json.loads(WebhookDelivery.objects.get().body)["data"]["to"] == "bench"


def test_a_move_that_cannot_be_made_is_answered_with_the_job_as_it_is(call, job):
    answer = call("post", f"/jobs/{job.number}/state", {"to": "returned"})
    assert answer.status_code == 409
    assert answer.json()["current"]["state"] == "arrived"


def test_holding_and_going_on_need_their_words(call, job):
    path = f"/jobs/{job.number}/state"
    assert call("post", path, {"to": "held"}).status_code == 409
    assert call("post", path, {"to": "held", "why": "outside as found", "waits_for": "owner"}).json()["state"] == "held"
    assert call("post", path, {"to": "bench"}).status_code == 409
    answer = call("post", path, {"to": "bench", "decided_by": "Ada Quay (invented)", "why": "adjust it"})
    assert answer.json()["state"] == "bench"


def test_a_requested_job_arrives(call, job):
    job.state = "requested"
    job.save()
    assert call("post", f"/jobs/{job.number}/state", {"to": "arrived"}).json()["state"] == "arrived"


def test_a_token_without_bench_work_puts_nothing_on_the_bench(caller_with, job, shop):
    answer = caller_with("change-jobs")("post", f"/jobs/{job.number}/state", {"to": "bench"})
    assert answer.status_code == 403
    assert "work-bench" in answer.json()["error"]["remedy"]


def test_jobs_are_listed_the_newest_first_and_narrowed(call, job, owner, analyzer, now):
    closed = Job.objects.create(number="J-2025-00001", owner=owner, analyzer=analyzer, state="returned", opened_at=now)

    def numbers(query):
        return [row["number"] for row in call("get", f"/jobs?{query}").json()["rows"]]

    assert numbers("") == [closed.number, job.number]
    assert numbers("open_only=true") == [job.number]
    assert numbers("state=returned") == [closed.number]
    assert numbers(f"owner={owner.pk}&analyzer={analyzer.pk}&limit=1") == [closed.number]
    assert numbers("owner=999") == []
    assert call("get", "/jobs?state=nowhere").status_code == 422
    first = call("get", "/jobs?limit=1").json()
    assert [row["number"] for row in call("get", f"/jobs?limit=1&after={first['next']}").json()["rows"]] == [job.number]


@pytest.mark.parametrize("number", ["J-9", "%00", "a%27b"])
def test_a_job_that_is_not_there_is_not_found(call, number):
    assert call("get", f"/jobs/{number}").status_code == 404


@pytest.fixture
def visit(job, people, shop, now):
    return open_visit(job, people["technician"], now, shop)


def test_the_record_of_a_visit_is_its_projection(call, visit, job):
    (row,) = call("get", f"/jobs/{job.number}/visits").json()["rows"]
    assert row["id"] == visit.pk
    record = call("get", f"/visits/{visit.pk}/record").json()
    assert (record["job"], record["steps"]) == (job.number, [])


def test_a_visit_without_steps_has_no_judgement_yet(call, visit):
    answer = call("get", f"/visits/{visit.pk}/judgement")
    assert answer.status_code == 409
    assert "Nothing is recorded yet" in answer.json()["error"]["message"]


def test_the_judgement_of_a_visit_is_the_cores(call, visit, people, now):
    record = demo_records()[0].record
    head = {name: value for name, value in record.items() if name not in {"format", "references", "steps"}}
    append(visit, "head", head, people["technician"], now)
    for code, content in record["references"].items():
        append(visit, "reference", {"id": code, "content": content}, people["technician"], now)
    for step in record["steps"]:
        append(visit, "step", step, people["technician"], now)
    answer = call("get", f"/visits/{visit.pk}/judgement")
    assert answer.status_code == 200
    projected = record_tree(visit)
    profile = shipped_profile(projected["analyzer"]["profile"]["name"])
    judged = judge_record(record_from_json(projected), profile).to_json_dict()
    assert answer.json() == json.loads(json.dumps(judged))
    assert len(call("get", f"/visits/{visit.pk}/record").json()["steps"]) == len(record["steps"])


@pytest.fixture
def here(shop, people, job, now):
    """The job with its box here and its promise clock running."""
    job.state, job.promised_on, job.received_on = "requested", None, None
    job.save()
    return take_in(job, None, people["counter"], now)


def test_a_changed_service_is_told_to_the_promise_clock_as_by_the_form(call, here):
    before = here.promised_on
    answer = call("patch", f"/jobs/{here.number}", {"version": here.version, "service": "repair"})
    assert answer.status_code == 200
    event = here.clock_events.get(kind="service")
    assert event.terms == {"service": "repair", "before": "verify-adjust"}
    here.refresh_from_db()
    assert answer.json()["promised_on"] == here.promised_on.isoformat() > before.isoformat()
    assert answer.json()["version"] == here.version


def test_a_day_promised_by_hand_is_a_promise_of_the_clock(call, here):
    answer = call("patch", f"/jobs/{here.number}", {"version": here.version, "promised_on": "2027-01-12"})
    assert answer.json()["promised_on"] == "2027-01-12"
    assert clock_of(Job.objects.get(pk=here.pk), timezone.now()).promised_on == dt.date(2027, 1, 12)


def test_a_changed_order_goes_into_the_open_bench_record(call, visit, job):
    job.refresh_from_db()
    answer = call("patch", f"/jobs/{job.number}", {"version": job.version, "decision_rule": "simple"})
    assert answer.status_code == 200
    assert record_tree(visit)["order"]["decision_rule"] == "simple"


def test_a_box_that_arrives_by_the_api_has_its_row_at_the_counter(call, here):
    assert Arrival.objects.get(job=here).state == "known"
