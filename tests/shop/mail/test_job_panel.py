"""Questions and letters of a job: asked, answered by phone, taken back, written in own words."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.mailing.questions import answer
from flueproof.shop.records.models import Letter, OwnerQuestion

ASKED = {"kind": "other", "words": "May we open it?", "choices": "Yes\nNo\n\nYes", "stops": "on", "send": "on"}


def panel_of(client, job):
    page = client.get(reverse("mail:job-panel", args=[job.number]), headers={"HX-Request": "true"})
    assert page.status_code == 200
    return page.content.decode()


def test_the_panel_is_a_fragment_for_htmx_and_a_page_for_everybody_else(counter_client, bench, job):
    part = panel_of(counter_client, job)
    page = counter_client.get(reverse("mail:job-panel", args=[job.number])).content.decode()
    assert "<html" not in part
    assert "<html" in page
    assert "Nothing was asked or written yet." in part
    assert "Nothing was asked or written yet." in page


def test_a_question_is_asked_and_mailed_once(counter_client, bench, job):
    for _ in range(2):
        made = counter_client.post(reverse("mail:ask", args=[job.number]), ASKED)
        assert made["Location"] == reverse("counter:job", args=[job.number])
    (question,) = OwnerQuestion.objects.all()
    assert (question.choices, question.stops, question.asked_by.username) == (["Yes", "No"], True, "counter")
    (letter,) = Letter.objects.filter(kind="question")
    assert "May we open it?" in letter.text
    assert "May we open it?" in panel_of(counter_client, job)


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"words": " "}, "This field is required."),
        ({"words": "x" * 2001}, "at most 2000 characters"),
        ({"choices": "\n".join("1234567")}, "six at most"),
        ({"choices": "x" * 81}, "at most 80 signs"),
        ({"kind": "none"}, "Select a valid choice"),
    ],
)
def test_a_question_that_is_wrong_is_told_and_kept_on_the_page(counter_client, bench, job, wrong, told):
    page = counter_client.post(reverse("mail:ask", args=[job.number]), ASKED | wrong)
    assert page.status_code == 422
    assert told in page.content.decode()
    assert not OwnerQuestion.objects.exists()


def test_a_closed_job_asks_nothing_more(counter_client, bench, job):
    job.state = "returned"
    job.save()
    page = counter_client.post(reverse("mail:ask", args=[job.number]), ASKED)
    assert page.status_code == 422
    assert "is closed" in page.content.decode()


def test_who_wants_no_e_mail_is_asked_without_one(counter_client, bench, job):
    job.owner.no_letters = True
    job.owner.save()
    counter_client.post(reverse("mail:ask", args=[job.number]), ASKED)
    assert OwnerQuestion.objects.count() == 1
    assert not Letter.objects.exists()
    assert job.moments.filter(what="letter", text__contains="wants no e-mail").exists()
    assert "This owner wants no e-mail" in panel_of(counter_client, job)


def test_an_answer_by_phone_is_noted_once(counter_client, question):
    given = {"answer": "Test it without", "answered_by": "Ada"}
    for _ in range(2):
        assert counter_client.post(reverse("mail:note-answer", args=[question.pk]), given).status_code == 302
    question.refresh_from_db()
    assert (question.state, question.answer, question.answered_by) == ("answered", "Test it without", "Ada")
    assert question.job.moments.filter(what="answer").count() == 1


def test_an_answer_by_phone_after_one_by_link_is_told(counter_client, question):
    answer(question, "I send it", "Ada", None, timezone.now())
    given = {"answer": "Test it without", "answered_by": "Eve"}
    page = counter_client.post(reverse("mail:note-answer", args=[question.pk]), given, follow=True).content.decode()
    assert "Not noted. Ada answered already" in page
    question.refresh_from_db()
    assert question.answer == "I send it"


def test_an_answer_without_a_name_is_refused_and_kept(counter_client, question):
    page = counter_client.post(reverse("mail:note-answer", args=[question.pk]), {"answer": "kept words"})
    assert page.status_code == 422
    assert "kept words" in page.content.decode()


def test_a_question_is_taken_back_and_its_link_opens_nothing(client, counter_client, question, link):
    for _ in range(2):
        assert counter_client.post(reverse("mail:withdraw", args=[question.pk])).status_code == 302
    question.refresh_from_db()
    assert question.state == "withdrawn"
    assert client.get(link[1]).status_code == 410
    assert question.job.moments.filter(what="question withdrawn").count() == 1


WORDS = {"to": "ada@tidewater.example", "subject": "About your analyzer", "words": "It is fine.\n\nBest"}


def test_a_letter_in_own_words_is_written_once(counter_client, bench, job):
    for _ in range(2):
        assert counter_client.post(reverse("mail:write", args=[job.number]), WORDS).status_code == 302
    (letter,) = Letter.objects.all()
    assert (letter.to, letter.subject, letter.kind) == (WORDS["to"], WORDS["subject"], "letter")
    assert letter.text.startswith("It is fine.\n\nBest\n\nHarrow Lane Test Bench")


@pytest.mark.parametrize(
    "wrong",
    [
        {"to": "nobody"},
        {"to": "a@b.example\nBcc: c@d.example"},
        {"subject": "One\nBcc: c@d.example"},
        {"subject": "One\r\nTwo"},
        {"words": ""},
        {"words": "x" * 10_001},
    ],
)
def test_a_letter_that_is_wrong_is_refused_and_kept_on_the_page(counter_client, bench, job, wrong):
    page = counter_client.post(reverse("mail:write", args=[job.number]), WORDS | wrong)
    assert page.status_code == 422
    assert not Letter.objects.exists()


def test_what_did_not_arrive_stands_on_the_job(counter_client, question):
    Letter.objects.update(state="bounced", trouble="550 no such mailbox")
    assert "550 no such mailbox" in panel_of(counter_client, question.job)


def test_where_it_stands_is_sent_once_with_the_promised_day_of_the_job(counter_client, bench, job):
    job.promised_on = dt.date(2026, 12, 3)
    job.save()
    assert "Send where it stands" in panel_of(counter_client, job)
    for _ in range(2):
        made = counter_client.post(reverse("mail:stands", args=[job.number]))
        assert made["Location"] == reverse("counter:job", args=[job.number])
    (letter,) = Letter.objects.all()
    assert letter.kind == "follow"
    assert "We promise it for 3 December 2026." in letter.text
    assert "See where it stands: https://bench.example/answer/" in letter.text


def test_who_wants_no_e_mail_is_not_sent_where_it_stands(counter_client, bench, job):
    job.owner.no_letters = True
    job.owner.save()
    assert "Send where it stands" not in panel_of(counter_client, job)
    page = counter_client.post(reverse("mail:stands", args=[job.number]), follow=True)
    assert "No e-mail goes out" in page.content.decode()
    assert not Letter.objects.exists()


@pytest.mark.parametrize("name", ["ask", "write", "stands"])
def test_acts_of_a_job_want_post_and_a_right(client, owner_client, counter_client, bench, job, name):
    address = reverse(f"mail:{name}", args=[job.number])
    assert counter_client.get(address).status_code == 405
    assert owner_client.post(address, ASKED | WORDS).status_code == 403
    assert client.post(address, ASKED | WORDS).status_code == 302
    assert not Letter.objects.exists()


@pytest.mark.parametrize("name", ["note-answer", "withdraw"])
def test_acts_of_a_question_want_post_and_a_right(client, owner_client, counter_client, question, name):
    address = reverse(f"mail:{name}", args=[question.pk])
    assert counter_client.get(address).status_code == 405
    assert owner_client.post(address).status_code == 403
    assert client.post(address).status_code == 302
    question.refresh_from_db()
    assert question.state == "open"
