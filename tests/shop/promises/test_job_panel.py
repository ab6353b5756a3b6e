"""The promise on the page of a job."""

import datetime as dt

from flueproof.shop.records.models import ClockEvent, Job
from flueproof.shop.records.promises.clock import note_clock
from flueproof.shop.records.promises.planning import make_plan
from shop.planned import MONDAY, make_job

HTMX = {"HTTP_HX_REQUEST": "true"}
DAY = dt.timedelta(days=1)


def panel(client, job, **headers):
    return client.get(f"/promises/job/{job.number}", **headers).content.decode()


def test_it_says_the_same_day_as_the_owner_reads_and_when_the_plan_has_it(technician_client, bench):
    make_plan(MONDAY)
    page = panel(technician_client, bench[0], **HTMX)
    assert page.count("Monday 7 December 2026, ready to ship") == 2
    assert "5 business days left" in page
    assert "Next: Look over, warm up, Monday 30 November 2026, 09:00" in page
    assert "<html" not in page
    assert "<html" in panel(technician_client, bench[0])


def test_it_tells_each_stop_and_what_it_cost(technician_client, bench, owner):
    job = make_job(owner, 7, at=MONDAY - 7 * DAY)
    note_clock(job, "stopped", MONDAY - 6 * DAY, at=MONDAY - 6 * DAY, cause="parts", words="CO cell <new>")
    note_clock(job, "went-on", MONDAY - 4 * DAY, at=MONDAY - 4 * DAY, cause="parts")
    page = panel(technician_client, job, **HTMX)
    assert "waiting for parts" in page
    assert "CO cell &lt;new&gt;" in page
    assert "2 business days (1.9 stood)" in page  # from Tuesday nine to Thanksgiving


def test_what_is_missing_is_listed_and_looked_at_again(counter_client, shop, owner):
    job = make_job(owner, 8, service="repair", clock=False)
    note_clock(job, "arrived", MONDAY)
    page = panel(counter_client, job, **HTMX)
    assert "up to what sum it may be repaired without asking" in page
    answer = counter_client.post(f"/promises/job/{job.number}/paperwork", follow=True)
    assert "Still missing" in answer.content.decode()
    job.complaint, job.spend_up_to = "dead", 90
    job.save()
    counter_client.post(f"/promises/job/{job.number}/paperwork")
    counter_client.post(f"/promises/job/{job.number}/paperwork")
    assert [row.kind for row in ClockEvent.objects.filter(job=job)].count("paperwork-complete") == 1


def test_a_promise_is_given_once(counter_client, bench):
    sent = {"day": "2026-12-02", "words": "agreed with Ada"}
    for _ in range(2):
        assert counter_client.post(f"/promises/job/{bench[0].number}/give", sent).status_code == 302
    assert Job.objects.get(pk=bench[0].pk).promised_on == dt.date(2026, 12, 2)
    assert bench[0].moments.filter(what="promise given").count() == 1


def test_a_day_that_is_over_is_refused_and_what_was_typed_is_kept(counter_client, bench):
    sent = {"day": "2026-11-27", "words": "agreed with Ada"}
    answer = counter_client.post(f"/promises/job/{bench[0].number}/give", sent)
    assert answer.status_code == 422
    assert "That day is over." in answer.content.decode()
    assert "agreed with Ada" in answer.content.decode()
    assert Job.objects.get(pk=bench[0].pk).promised_on == dt.date(2026, 12, 7)


def test_a_closed_job_promises_nothing(counter_client, bench):
    job = bench[0]
    job.state = "returned"
    job.save()
    answer = counter_client.post(f"/promises/job/{job.number}/give", {})
    assert answer.status_code == 422
    assert "nothing is promised any more" in answer.content.decode()


def test_rights_and_methods(technician_client, counter_client, bench):
    number = bench[0].number
    assert technician_client.post(f"/promises/job/{number}/give", {}).status_code == 403
    assert counter_client.get(f"/promises/job/{number}/give").status_code == 405
    assert counter_client.post(f"/promises/job/{number}").status_code == 405
    assert counter_client.get("/promises/job/J-1").status_code == 404


def test_a_loan_unit_is_offered_when_the_promise_is_in_danger(manager_client, bench):
    assert "Offer a loan unit" not in panel(manager_client, bench[0], **HTMX)
    job = bench[0]
    note_clock(job, "promised", MONDAY, day=(MONDAY - 3 * DAY).date())
    assert "Offer a loan unit" in panel(manager_client, job, **HTMX)


def test_a_day_promised_when_the_job_was_opened_shows_before_the_box_is_here(technician_client, shop, owner):
    job = make_job(owner, 9, state="requested", clock=False, promised_on=dt.date(2026, 12, 3))
    assert "Promised for Thursday 3 December 2026" in panel(technician_client, job, **HTMX)
