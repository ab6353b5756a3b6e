"""Links of e-mails in the hands of scanners and of people who mean no good: looking acts on nothing, nothing breaks."""

import json

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.mailing.links import make_link
from flueproof.shop.records.models import AnswerLink, Job, JobMoment, OwnerQuestion, Quote

SCANNER = {"Sec-Purpose": "prefetch", "Purpose": "prefetch", "X-Moz": "prefetch", "User-Agent": "mail scanner"}
NASTY = ["a\x1b[31m", "a\r\nBcc: x@y.example", "\u202egnp", "<script>alert(1)</script>", "{link}", "=cmd|x", "'\"><b>"]


@pytest.fixture
def follow(bench, job):
    made, address = make_link("follow", job=job, now=timezone.now(), days=180)
    return made, address.removeprefix("https://bench.example")


@pytest.mark.parametrize("ask", ["get", "head"])
def test_scanners_that_open_every_link_use_none_up_and_decide_nothing(client, link, quote_link, follow, ask):
    moments, job = JobMoment.objects.count(), Job.objects.get()
    for _, path in (link, quote_link, follow):
        for tail in ("", "?decision=approve&name=Ada", "?choice=I+send+it&name=Ada"):
            for _ in range(3):
                answer = getattr(client, ask)(path + tail, headers=SCANNER)
                assert answer.status_code == 200
                assert answer["Cache-Control"] == "no-store"
    assert not AnswerLink.objects.exclude(used_at=None).exists()
    assert (OwnerQuestion.objects.get().state, Quote.objects.get().state) == ("open", "sent")
    assert JobMoment.objects.count() == moments
    assert Job.objects.get().version == job.version


def test_a_scanner_that_presses_without_the_page_s_own_token_is_refused(link, quote_link):
    strict = Client(enforce_csrf_checks=True)
    for _, path in (link, quote_link):
        strict.get(path)
        sent = {"decision": "approve", "choice": "I send it", "name": "scanner"}
        assert strict.post(path, sent).status_code == 403
    assert not AnswerLink.objects.exclude(used_at=None).exists()


@pytest.mark.parametrize("text", NASTY)
def test_odd_signs_in_an_answer_and_a_decision_are_kept_as_text(client, counter_client, link, quote_link, text):
    assert client.post(link[1], {"choice": "I send it", "words": text, "name": text}).status_code == 302
    sent = {"decision": "decline", "words": text, "name": text}
    assert client.post(quote_link[1], sent).status_code == 302
    job = Job.objects.get()
    for address in (
        reverse("counter:job", args=[job.number]),
        reverse("mail:job-panel", args=[job.number]),
        reverse("returns:quote", args=[Quote.objects.get().number]),
    ):
        page = counter_client.get(address)
        assert page.status_code == 200
        assert "<script>alert" not in page.content.decode()
        assert "'\"><b>" not in page.content.decode()


@pytest.mark.parametrize(
    "wrong",
    [{"name": "a\0b"}, {"words": "\0"}, {"name": "x" * 100_000}, {"words": "x" * 100_000}, {"choice": "x" * 9999}],
)
def test_what_cannot_be_kept_is_refused_and_the_link_stays_good(client, link, quote_link, wrong):
    answer = {"choice": "I send it", "name": "Ada", **wrong}
    assert client.post(link[1], answer).status_code == 422
    if "choice" not in wrong:
        assert client.post(quote_link[1], {"decision": "approve", "name": "Ada", **wrong}).status_code == 422
    assert not AnswerLink.objects.exclude(used_at=None).exists()
    assert Quote.objects.get().state == "sent"


@pytest.mark.parametrize(
    ("body", "kind"),
    [
        (json.dumps({"decision": "approve", "name": "Ada"}), "application/json"),
        ("decision=approve&name=Ada", "text/plain"),
        ("--x", "multipart/form-data; boundary=x"),
        ("--x", "multipart/form-data"),
        (b"\xff\xfe\x00", "application/x-www-form-urlencoded"),
    ],
)
def test_a_body_of_another_kind_decides_nothing(client, link, quote_link, body, kind):
    for _, path in (link, quote_link):
        assert client.generic("POST", path, body, content_type=kind).status_code in {400, 422}
    assert not AnswerLink.objects.exclude(used_at=None).exists()


def test_a_link_that_follows_a_job_takes_no_answer(client, follow):
    assert client.post(follow[1], {"decision": "approve", "choice": "x", "name": "Ada"}).status_code == 404
    assert client.get(follow[1]).status_code == 200


def test_a_quote_s_link_answers_no_question_and_the_other_way_round(client, link, quote_link):
    client.post(quote_link[1], {"choice": "I send it", "name": "Ada"})
    client.post(link[1], {"decision": "approve", "name": "Ada"})
    assert (OwnerQuestion.objects.get().state, Quote.objects.get().state) == ("open", "sent")


@pytest.mark.parametrize("secret", ["", "x", "a" * 5000, "%00", "..%2f..", "%F0%9F%92%A9", "'; drop table--"])
def test_secrets_that_are_none_are_all_answered_alike(client, bench, secret):
    assert client.get(f"/answer/{secret}/").status_code == 404
