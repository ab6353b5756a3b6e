"""A link in an e-mail opens one thing, looking changes nothing, and it is used once."""

import datetime as dt

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.mailing.links import make_link, withdraw_links
from flueproof.shop.records.mailing.questions import answer
from flueproof.shop.records.models import AnswerLink, BoxPhoto, JobMoment, OwnerQuestion, Quote

from .conftest import path_of

GIVEN = {"choice": "I send it", "words": "", "name": "Ada"}


def small_png():
    import io

    from PIL import Image

    out = io.BytesIO()
    Image.new("RGB", (8, 6), "white").save(out, "PNG")
    return out.getvalue()


def test_looking_shows_the_question_and_changes_nothing(client, question, link):
    before = (AnswerLink.objects.get(pk=link[0].pk).used_at, JobMoment.objects.count())
    for _ in range(3):
        page = client.get(link[1])
    assert client.head(link[1]).status_code == 200
    assert page.status_code == 200
    assert question.words in page.content.decode()
    assert "Orrin 5, serial O5-20417" in page.content.decode()
    assert (AnswerLink.objects.get(pk=link[0].pk).used_at, JobMoment.objects.count()) == before
    assert page["Cache-Control"] == "no-store"
    assert page["X-Robots-Tag"] == "noindex"


def test_an_answer_is_kept_with_the_job_and_the_link_is_used_up(client, question, link):
    sent = client.post(link[1], GIVEN)
    assert (sent.status_code, sent["Location"]) == (302, link[1])
    question.refresh_from_db()
    assert (question.state, question.answer, question.answered_by) == ("answered", "I send it", "Ada")
    assert question.job.moments.filter(what="answer", text__startswith="Ada: I send it").count() == 1
    after = client.get(link[1])
    assert after.status_code == 200
    assert "we have your answer" in after.content.decode()


def test_a_second_answer_by_the_same_link_changes_nothing(client, question, link):
    client.post(link[1], GIVEN)
    again = client.post(link[1], {**GIVEN, "choice": "Test it without"})
    assert "we have your answer" in again.content.decode()
    question.refresh_from_db()
    assert question.answer == "I send it"


def test_an_answer_by_phone_a_moment_before_stays_and_the_link_says_so(client, question, link, people):
    answer(question, "Comes by courier", "Ada by phone", people["counter"], timezone.now())
    late = client.post(link[1], GIVEN)
    assert late.status_code == 200
    assert "we have your answer" in late.content.decode()
    question.refresh_from_db()
    assert question.answer == "Comes by courier"


def test_own_words_and_a_photo_are_kept(client, question, link, people):
    given = {"choice": "", "words": "See the photo", "name": "Ada", "photo": SimpleUploadedFile("p.png", small_png())}
    assert client.post(link[1], given).status_code == 302
    (photo,) = BoxPhoto.objects.filter(job=question.job)
    assert photo.blob.media_type == "image/jpeg"
    question.refresh_from_db()
    assert question.answer == "See the photo"


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"choice": ""}, "Choose an answer or write one."),
        ({"name": ""}, "This field is required."),
        ({"choice": "Something else"}, "Select a valid choice"),
        ({"words": "x" * 2001}, "at most 2000 characters"),
    ],
)
def test_what_is_wrong_is_told_and_what_was_typed_is_kept(client, question, link, wrong, told):
    page = client.post(link[1], {**GIVEN, "words": "my own words", **wrong} if "choice" not in wrong else GIVEN | wrong)
    assert page.status_code == 422
    assert told in page.content.decode()
    question.refresh_from_db()
    assert question.state == "open"
    assert AnswerLink.objects.get(pk=link[0].pk).used_at is None


def test_a_photo_that_is_none_is_refused_and_the_answer_is_kept_on_the_page(client, question, link):
    given = {**GIVEN, "words": "typed", "photo": SimpleUploadedFile("p.jpg", b"no picture at all")}
    page = client.post(link[1], given)
    assert page.status_code == 422
    text = page.content.decode()
    assert "no photo that can be read" in text
    assert "typed" in text
    assert AnswerLink.objects.get(pk=link[0].pk).used_at is None


def test_a_photo_of_more_than_30_mb_is_refused(client, link):
    given = {**GIVEN, "photo": SimpleUploadedFile("p.jpg", b"\xff" * (30 * 2**20 + 1))}
    page = client.post(link[1], given)
    assert page.status_code == 422
    assert "larger than 30 MB" in page.content.decode()


def test_a_late_link_says_so_with_the_phone(client, question):
    _, address = make_link("answer", question=question, now=timezone.now() - dt.timedelta(days=31), days=30)
    for page in (client.get(path_of(address)), client.post(path_of(address), GIVEN)):
        assert page.status_code == 410
        assert "too old" in page.content.decode()
        assert "555-0199" in page.content.decode()
    question.refresh_from_db()
    assert question.state == "open"


def test_a_withdrawn_link_says_so(client, question, link):
    withdraw_links(timezone.now(), question=question)
    page = client.get(link[1])
    assert page.status_code == 410
    assert "withdrawn" in page.content.decode()
    assert question.words not in page.content.decode()


@pytest.mark.parametrize("secret", ["x", "a" * 16 + "~" + "b" * 32, "~sealed", "\u00e4", "x" * 400])
def test_an_unknown_link_tells_nothing_but_the_phone(client, bench, secret):
    page = client.get(reverse("mail:answer", args=[secret]))
    assert page.status_code == 404
    assert "not known" in page.content.decode()
    assert "555-0199" in page.content.decode()


def test_a_quote_shows_its_lines_and_total(client, quote, quote_link):
    page = client.get(quote_link[1]).content.decode()
    for words in ("CO cell", "Fitting", "0.5", "USD 180.00", "USD 65.00", "USD 245.00", "The CO cell reads low."):
        assert words in page
    quote.refresh_from_db()
    assert quote.state == "sent"


@pytest.mark.parametrize(("press", "state"), [("approve", "approved"), ("decline", "declined")])
def test_a_quote_is_decided_by_a_press_once(client, quote, quote_link, press, state):
    assert client.post(quote_link[1], {"decision": press, "name": "Ada", "words": "fine"}).status_code == 302
    other = "decline" if press == "approve" else "approve"
    again = client.post(quote_link[1], {"decision": other, "name": "Eve", "words": ""})
    assert again.status_code == 200
    assert f"is {state}" in again.content.decode()
    quote.refresh_from_db()
    assert (quote.state, quote.decided_by) == (state, "Ada")


@pytest.mark.parametrize("given", [{"name": "Ada"}, {"decision": "approve"}, {"decision": "maybe", "name": "Ada"}])
def test_a_quote_is_not_decided_without_a_name_or_a_decision(client, quote, quote_link, given):
    assert client.post(quote_link[1], given).status_code == 422
    quote.refresh_from_db()
    assert quote.state == "sent"
    assert AnswerLink.objects.get(pk=quote_link[0].pk).used_at is None


def test_a_quote_whose_day_is_over_is_not_decided(client, quote, quote_link):
    quote.valid_until = timezone.localdate() - dt.timedelta(days=1)
    quote.save()
    page = client.post(quote_link[1], {"decision": "approve", "name": "Ada"})
    assert page.status_code == 422
    assert "Ask the shop for a new one" in page.content.decode()
    assert Quote.objects.get(pk=quote.pk).state != "approved"


def test_a_replaced_quote_points_to_the_newer_one(client, quote, quote_link):
    quote.state = "replaced"
    quote.save()
    assert "newer quote" in client.get(quote_link[1]).content.decode()


def test_following_shows_where_the_job_stands_as_often_as_one_likes(client, bench, job):
    _, address = make_link("follow", job=job, now=timezone.now(), days=180)
    for _ in range(2):
        page = client.get(path_of(address))
        assert page.status_code == 200
    text = page.content.decode()
    assert "It is here and waits for its turn" in text
    assert job.number in text
    assert client.post(path_of(address)).status_code == 404


@pytest.mark.parametrize("state", [state for state, _ in OwnerQuestion._meta.model.job.field.related_model.STATES])
def test_every_state_of_a_job_has_words_for_its_owner(client, bench, job, state):
    job.state = state
    job.save()
    _, address = make_link("follow", job=job, now=timezone.now(), days=180)
    assert client.get(path_of(address)).status_code == 200


@pytest.mark.parametrize("purpose", ["confirm", "resume"])
def test_links_of_requests_lead_to_their_own_pages(client, bench, purpose):
    _, address = make_link(purpose, now=timezone.now(), days=1)
    secret = address.rstrip("/").rpartition("/")[2]
    page = client.get(reverse("mail:answer", args=[secret]))
    assert page["Location"] == path_of(address) == reverse(f"requests:{purpose}", args=[secret])


def test_a_page_that_was_not_loaded_cannot_answer(question, link):
    strict = Client(enforce_csrf_checks=True)
    assert strict.post(link[1], GIVEN).status_code == 403
    question.refresh_from_db()
    assert question.state == "open"


def test_what_an_owner_writes_is_escaped(client, counter_client, question, link):
    client.post(link[1], {**GIVEN, "words": "<script>alert(1)</script>", "name": "<b>Ada</b>"})
    page = counter_client.get(reverse("mail:job-panel", args=[question.job.number])).content.decode()
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert" in page
    assert "&lt;b&gt;Ada" in page


def test_other_ways_of_asking_are_refused(client, link):
    for method in (client.put, client.delete, client.patch):
        assert method(link[1]).status_code == 405


def test_who_asks_very_often_is_told_to_wait(client, link):
    answers = {client.get(link[1]).status_code for _ in range(121)}
    assert answers == {200, 429}
