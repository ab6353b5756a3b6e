"""A broken promise on the pages: the next step, the new day, what the figures say."""

import datetime as dt
import re

import pytest

from flueproof.shop.records.models import Job, OwnerContact
from flueproof.shop.records.promises.planning import make_plan
from shop.planned import MONDAY, make_job

DAY = dt.timedelta(days=1)
HTMX = {"HTTP_HX_REQUEST": "true"}


def text(answer):
    return answer.content.decode()


def words(page):
    return " ".join(re.sub(r"<[^>]*>", "", page).split())


@pytest.fixture
def late(bench, owner):
    OwnerContact.objects.create(owner=owner, name="Ada <Quay>", phone="555-0123", email="ada@quay.example")
    return make_job(owner, 7, at=MONDAY - 21 * DAY)


def test_the_panel_says_whom_to_call_and_offers_a_day(counter_client, late):
    make_plan(MONDAY)
    page = text(counter_client.get(f"/promises/job/{late.number}", **HTMX))
    assert "This promise is broken." in page
    assert "Ada &lt;Quay&gt;, 555-0123" in page
    assert "The plan has it done" in page
    assert 'value="2026-12-01"' in page
    assert "A new day agreed with the owner" in page


def test_without_a_way_to_reach_the_owner_it_says_so(counter_client, late, owner):
    for contact in owner.contacts.all():
        contact.delete()
    page = text(counter_client.get(f"/promises/job/{late.number}", **HTMX))
    assert f"No phone number and no e-mail of {owner} is on file." in page
    assert "It is not in the plan." in page


def test_a_new_day_needs_the_day_and_with_whom_it_was_agreed(counter_client, late):
    answer = counter_client.post(f"/promises/job/{late.number}/give", {"day": "", "words": ""})
    assert answer.status_code == 422
    assert text(answer).count("This field is required.") == 2
    answer = counter_client.post(f"/promises/job/{late.number}/give", {"day": "2026-12-02", "words": ""})
    assert answer.status_code == 422
    assert 'value="2026-12-02"' in text(answer)


def test_an_agreed_new_day_is_shown_with_the_broken_one(counter_client, late):
    sent = {"day": "2026-12-02", "words": "Ada agreed"}
    page = text(counter_client.post(f"/promises/job/{late.number}/give", sent, follow=True))
    assert "stays counted as broken" in page
    assert Job.objects.get(pk=late.pk).promised_on == dt.date(2026, 12, 2)
    panel = text(counter_client.get(f"/promises/job/{late.number}", **HTMX))
    assert "17 November 2026 was broken; 2 December 2026 agreed on" in words(panel)
    assert "This promise is broken." not in panel


def test_the_page_leads_from_a_late_job_to_a_new_day_and_tells_it_afterwards(counter_client, late):
    counter_client.post("/promises/anew")
    page = text(counter_client.get("/promises/"))
    assert f'href="/promises/job/{late.number}#give"' in page
    counter_client.post(f"/promises/job/{late.number}/give", {"day": "2026-12-01", "words": "Ada agreed"})
    page = text(counter_client.get("/promises/"))
    assert "Agree a new day" not in page
    assert "new day; 17 November 2026 was broken" in words(page)


def test_a_promise_that_is_not_broken_asks_for_nothing(counter_client, bench):
    page = text(counter_client.get(f"/promises/job/{bench[0].number}", **HTMX))
    assert "This promise is broken" not in page
    assert "Promise another day" in page


def test_the_page_of_kept_promises_names_the_broken_ones(counter_client, technician_client, late, people):
    from flueproof.shop.records.jobs.moving import move_job

    assert "None." in text(technician_client.get("/promises/kept"))
    for state in ("bench", "to-sign", "to-return"):
        move_job(late, state, people["signer"], MONDAY)
    page = text(technician_client.get("/promises/kept"))
    assert late.number in page
    assert "8 business days" in page
    assert "0 (0 %)" in page


def test_strangers_do_not_see_how_promises_were_kept(client, owner_client, counter_client, shop):
    assert client.get("/promises/kept").status_code == 302
    assert owner_client.get("/promises/kept").status_code == 403
    assert counter_client.post("/promises/kept").status_code == 405
