"""A job at another shop, on its pages."""

from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from flueproof.shop.records.models import SentOn

GOES = {"shop": "Northgate (invented)", "what_for": "infrared bench", "owner_said": "Ada, by phone"}
PAPER = b"%PDF-1.7 theirs"


def test_it_goes_there_and_comes_back_with_their_paper(counter_client, job, shop, page, state_of):
    for _ in range(2):
        assert page(counter_client, "send-on", job.number, **GOES).status_code == 302
    sent = SentOn.objects.get()
    assert state_of(job) == "sent-on"
    page(counter_client, "sent-on", sent.pk, which="theirs", their_number="NG-7", back_promised="2026-12-09")
    file = SimpleUploadedFile("their certificate.pdf", PAPER, "application/pdf")
    answer = counter_client.post(
        reverse("returns:sent-on", args=[sent.pk]),
        {"which": "back", "to": "arrived", "results": "CO2 conforms", "paper": file},
    )
    assert answer.status_code == 302
    assert state_of(job) == "arrived"
    panel = page(counter_client, "job-panel", job.number).content.decode()
    assert "Results of Northgate (invented), not ours" in panel
    given = page(counter_client, "their-paper", sent.pk)
    assert given.content == PAPER
    assert given["Content-Disposition"] == 'attachment; filename="their certificate.pdf"'


def test_an_owner_who_was_not_asked_stops_it(counter_client, job, shop, page, state_of):
    answer = page(counter_client, "send-on", job.number, **{**GOES, "owner_said": ""})
    assert answer.status_code == 422
    assert 'value="Northgate (invented)"' in answer.content.decode()
    assert state_of(job) == "arrived"


def test_a_file_that_is_no_paper_leaves_the_job_there(counter_client, job, shop, page, state_of):
    page(counter_client, "send-on", job.number, **GOES)
    sent = SentOn.objects.get()
    file = SimpleUploadedFile("x.pdf", b"MZ program", "application/pdf")
    answer = counter_client.post(
        reverse("returns:sent-on", args=[sent.pk]), {"which": "back", "to": "arrived", "results": "ok", "paper": file}
    )
    assert answer.status_code == 422
    assert "PDF, PNG or JPEG" in answer.content.decode()
    assert state_of(job) == "sent-on"


def test_a_paper_that_is_not_there_is_not_found(counter_client, job, shop, page):
    page(counter_client, "send-on", job.number, **GOES)
    assert page(counter_client, "their-paper", SentOn.objects.get().pk).status_code == 404
