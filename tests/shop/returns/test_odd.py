"""Given up, comebacks, boxes nobody fetches, lost and stolen."""

import datetime as dt

import pytest
from django.urls import reverse

from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import Analyzer, Job, Letter
from flueproof.shop.records.returning.unrepaired import tag_words


def test_given_up_goes_back_with_a_tag_to_print(counter_client, job, shop, page, state_of):
    assert page(counter_client, "unrepaired-tag", job.number).status_code == 404
    sent = {"why": "beyond-our-access", "words": "board", "tag": "Reads <low> on CO."}
    for _ in range(2):
        assert page(counter_client, "unrepaired", job.number, **sent).status_code == 302
    assert state_of(job) == "to-return"
    text = page(counter_client, "unrepaired-tag", job.number).content.decode()
    assert "DO NOT USE" in text
    assert "Reads &lt;low&gt; on CO." in text


def test_without_words_on_the_tag_nothing_is_given_up(counter_client, job, shop, page):
    answer = page(counter_client, "unrepaired", job.number, why="owner-asked", words="as it is", tag="")
    assert answer.status_code == 422
    assert "as it is" in answer.content.decode()
    assert tag_words(job) == ""


def test_no_comeback_needs_a_reason(counter_client, job, shop, page):
    assert page(counter_client, "no-comeback", job.number, why="").status_code == 422
    assert page(counter_client, "no-comeback", job.number, why="fell off a roof").status_code == 302
    assert job.moments.get(what="no comeback").text == "fell off a roof"


def test_a_comeback_of_nothing_is_told(counter_client, job, shop):
    answer = counter_client.post(reverse("returns:comeback", args=[job.number]), follow=True)
    assert "no earlier stay" in answer.content.decode()


@pytest.fixture
def waiting(job, shop, people, now):
    """A box that is ready for longer than the shop waits, by the clock of the day."""
    ready = min(now, dt.datetime.now(dt.UTC)) - dt.timedelta(days=40)
    return move_job(job, "to-return", people["counter"], ready, why="as it came")


def test_a_box_nobody_fetches_is_told_once_called_about_and_shelved(counter_client, waiting, page):
    for _ in range(2):
        counter_client.post(reverse("returns:unclaimed-letter", args=[waiting.number]))
    assert Letter.objects.filter(kind="unclaimed").count() == 1
    assert page(counter_client, "unclaimed-call", waiting.number, why="Bo comes Friday").status_code == 302
    assert page(counter_client, "shelf", waiting.number, why="top shelf").status_code == 302
    text = page(counter_client, "shipments").content.decode()
    assert waiting.number in text
    assert "top shelf" in text


def test_lost_is_reported_listed_and_cleared(counter_client, analyzer, shop, page):
    sent = {"what": "lost", "day": "2026-11-20", "words": "Ada Quay, left on a roof"}
    assert page(counter_client, "report-missing", analyzer.pk, **sent).status_code == 302
    assert "left on a roof" in page(counter_client, "missing").content.decode()
    assert page(counter_client, "report-missing", analyzer.pk, why="Ada has it again").status_code == 302
    row = Analyzer.objects.get(pk=analyzer.pk)
    assert (row.whereabouts, row.as_found_needed) == ("", True)


def test_a_report_of_tomorrow_is_refused_and_keeps_what_was_typed(counter_client, analyzer, shop, page):
    sent = {"what": "lost", "day": "2999-01-01", "words": "Ada Quay"}
    answer = page(counter_client, "report-missing", analyzer.pk, **sent)
    assert answer.status_code == 422
    assert 'value="Ada Quay"' in answer.content.decode()


def test_a_plate_is_checked_against_the_list(counter_client, analyzer, shop):
    analyzer.whereabouts, analyzer.whereabouts_words = "stolen", "police 771"
    analyzer.save()
    address = reverse("returns:missing")
    assert "is reported stolen" in counter_client.get(address, {"plate": "o5 20417"}).content.decode()
    assert "looks like" in counter_client.get(address, {"plate": "05-2O417"}).content.decode()
    assert "not on this list" in counter_client.get(address, {"plate": "<b>X1"}).content.decode()


@pytest.mark.parametrize("name", ["comeback", "unclaimed-letter"])
def test_acts_are_not_done_by_get(counter_client, job, shop, page, name):
    assert page(counter_client, name, job.number).status_code == 405
    assert Job.objects.get().first_job is None
