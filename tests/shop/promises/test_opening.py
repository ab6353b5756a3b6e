"""From a yes on the phone to an open job with that promise: one flow, both or nothing, once."""

import datetime as dt

import pytest

from flueproof.shop.records.models import Analyzer, Job, Owner, Plan
from shop.planned import MONDAY

pytestmark = pytest.mark.usefixtures("numbers_go_on")
OPEN = "/promises/open"
ASKED = {"service": "verify", "by_day": "2026-12-02", "by_time": "15:00", "job": "", "here_on": "2026-12-01"}
NEW = {
    **ASKED,
    "page": "abc",
    "serial": "ZX-777",
    "make": "Orrin",
    "model": "Orrin 7",
    "profile": "two-cell-residential",
    "owner_name": "Kelder Heat (invented)",
    "contact": "Kay Kelder",
    "phone": "555-0177",
}


def text(answer):
    return answer.content.decode()


def test_a_yes_leads_to_opening_with_the_question_carried_along(counter_client, bench):
    page = text(counter_client.get("/promises/can", ASKED))
    assert f'action="{OPEN}"' in page
    assert "Open the job and take it" in page
    page = text(counter_client.get(OPEN, ASKED))
    for name, value in ASKED.items():
        if value:
            assert f'name="{name}" value="{value}"' in page
    assert "every promise that is kept now stays kept" in page
    assert not Plan.objects.exists()


def test_one_press_opens_the_job_and_promises_the_day(counter_client, bench, people):
    answer = counter_client.post(OPEN, NEW, follow=True)
    job = Job.objects.get(analyzer__serial="ZX-777")
    assert answer.redirect_chain[0][0] == f"/jobs/{job.number}"
    assert (job.state, job.rush, job.promised_on, job.service) == ("requested", True, dt.date(2026, 12, 2), "verify")
    assert job.owner.name == "Kelder Heat (invented)"
    assert job.owner.contacts.get().phone == "555-0177"
    assert job.moments.get(what="rush taken").by == people["counter"]
    assert Plan.objects.get().why.startswith(job.number)


def test_a_second_press_of_the_same_page_opens_nothing_more(counter_client, bench):
    for _ in range(2):
        assert counter_client.post(OPEN, NEW).status_code == 302
    assert Job.objects.filter(analyzer__serial="ZX-777").count() == 1
    assert Plan.objects.count() == 1


def test_a_serial_on_file_is_enough(counter_client, bench, owner):
    unit = Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="OF-12")
    assert counter_client.post(OPEN, {**ASKED, "serial": "of 12", "profile": unit.profile}).status_code == 302
    job = Job.objects.get(analyzer=unit)
    assert (job.owner, job.promised_on) == (owner, dt.date(2026, 12, 2))


def test_a_firm_whose_name_is_on_file_is_not_made_twice(counter_client, bench, owner):
    assert counter_client.post(OPEN, {**NEW, "owner_name": owner.name.upper()}).status_code == 302
    assert Job.objects.get(analyzer__serial="ZX-777").owner == owner
    assert Owner.objects.filter(name__iexact=owner.name).count() == 1


def test_what_is_missing_is_asked_and_what_was_typed_is_kept(counter_client, bench):
    answer = counter_client.post(OPEN, {**NEW, "make": "", "owner_name": ""})
    page = text(answer)
    assert answer.status_code == 422
    assert "Whose is it?" in page
    assert "What make?" in page
    assert "Orrin 7" in page
    assert not Job.objects.filter(analyzer__serial="ZX-777").exists()


def test_an_analyzer_with_an_open_job_is_refused_and_nothing_is_taken(counter_client, bench):
    answer = counter_client.post(OPEN, {**ASKED, "serial": bench[0].analyzer.serial, "profile": NEW["profile"]})
    assert answer.status_code == 422
    assert f"has an open job already: {bench[0].number}" in text(answer)
    assert not Plan.objects.exists()


def test_promises_that_break_must_be_ticked_or_nothing_is_opened(counter_client, full):
    sent = {**NEW, "by_day": "2026-11-30", "by_time": "11:00", "here_on": ""}
    page = text(counter_client.get(OPEN, sent))
    assert "Only by breaking" in page
    answer = counter_client.post(OPEN, sent)
    assert answer.status_code == 422
    assert "This breaks promises that were not confirmed" in text(answer)
    assert not Analyzer.objects.filter(serial="ZX-777").exists()
    assert not Owner.objects.filter(name=NEW["owner_name"]).exists()
    names = [job.number for job in Job.objects.all() if f'value="{job.number}"' in page]
    assert counter_client.post(OPEN, {**sent, "breaks": names}).status_code == 302
    assert Job.objects.get(analyzer__serial="ZX-777").promised_on == MONDAY.date()


def test_what_cannot_be_done_offers_no_press(counter_client, full):
    page = text(counter_client.get(OPEN, {**ASKED, "by_day": "2026-11-30", "by_time": "09:10", "here_on": ""}))
    assert "Not by then at any price" in page
    assert "Open it and take it" not in page


@pytest.mark.parametrize("change", [{"by_day": "soon"}, {"job": "P-00001"}])
def test_a_question_that_is_none_or_of_an_open_job_leads_back(counter_client, bench, change):
    answer = counter_client.get(OPEN, {**ASKED, **change})
    assert (answer.status_code, answer["Location"]) == (302, "/promises/")


def test_a_moment_that_is_over_says_so(counter_client, bench):
    answer = counter_client.post(OPEN, {**NEW, "by_day": "2026-11-27"})
    assert answer.status_code == 422
    assert "That moment is over" in text(answer)


def test_only_who_plans_and_opens_jobs_does_it(client, technician_client, owner_client, bench):
    assert client.get(OPEN, ASKED).status_code == 302
    assert owner_client.get(OPEN, ASKED).status_code == 403
    assert technician_client.post(OPEN, NEW).status_code == 403
    assert not Job.objects.filter(analyzer__serial="ZX-777").exists()
