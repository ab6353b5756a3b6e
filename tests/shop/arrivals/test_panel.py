"""The box as a part of the job's page."""

from django.urls import reverse

from flueproof.shop.records.intake.condition import Found, keep_photos, note_found
from flueproof.shop.records.models import OwnerQuestion

from .conftest import photo

HTMX = {"HX-Request": "true"}
PANEL = "/boxes/of/J-2026-00050"


def test_the_panel_shows_box_parts_photos_and_paperwork(counter_client, known, by, now):
    keep_photos(known, known.job, [photo()], "", by, now)
    note_found(known, Found(["probe", "trap", "manual"], "dry"), by, now)
    page = counter_client.get(PANEL, headers=HTMX).content.decode()
    assert page.count("<section") == 1
    assert "<html" not in page
    assert known.box in page
    assert "<b>not in the box</b>" in page
    assert "not on the slip" in page
    assert "<img" in page
    assert "Paperwork: incomplete" in page


def test_it_stands_as_a_page_of_its_own(counter_client, awaited, shop):
    page = counter_client.get(PANEL).content.decode()
    assert "<html" in page
    assert "Its box has not come yet" in page
    assert "<b>announced</b>" in page


def test_the_owner_is_asked_from_the_jobs_page(counter_client, known, by, now):
    note_found(known, Found(["probe", "trap"], "dry"), by, now)
    answer = counter_client.post(reverse("arrivals:job-ask", args=[known.job.number]), {"part": ["hose"]})
    assert answer["Location"] == reverse("counter:job", args=[known.job.number])
    assert OwnerQuestion.objects.get().subject == "hose"


def test_a_job_without_a_box_of_ours_says_so_and_an_unknown_one_is_not_found(counter_client, job, shop):
    page = counter_client.get(reverse("arrivals:job-panel", args=[job.number]), headers=HTMX).content.decode()
    assert "handed in without a box of ours" in page
    assert counter_client.get("/boxes/of/J-1999-1").status_code == 404


def test_owners_and_strangers_do_not_see_it(owner_client, client_of, awaited):
    assert owner_client.get(PANEL).status_code == 403
    assert client_of("stranger").get(PANEL).status_code == 302
