"""Questions on the phone by form; taking what was answered."""

import datetime as dt

import pytest

from flueproof.shop.records.models import Job, Plan

DAY = dt.timedelta(days=1)
HTMX = {"HTTP_HX_REQUEST": "true"}


def text(answer):
    return answer.content.decode()


def asked(**more):
    return {"job": "", "service": "verify", "by_day": "2026-11-30", "by_time": "15:00", "here_on": "", **more}


def test_a_new_job_is_answered_beside_the_form_and_nothing_is_kept(technician_client, bench):
    answer = technician_client.get("/promises/can", asked(), **HTMX)
    assert answer.status_code == 200
    assert '<p class="word">Yes</p>' in text(answer)
    assert "<html" not in text(answer)
    assert not Plan.objects.exists()


def test_without_htmx_it_is_a_page_with_the_form_as_it_was_filled(technician_client, bench):
    page = text(technician_client.get("/promises/can", asked(by_time="15:30")))
    assert 'value="15:30"' in page
    assert "Yes" in page


@pytest.mark.parametrize("typed", ["J-2026-00002", "j-2026-00002", "P-00002", "p00002", "2"])
def test_an_open_job_is_named_by_its_number_or_serial(counter_client, bench, typed):
    page = text(counter_client.get("/promises/can", asked(job=typed), **HTMX))
    assert "Take it" in page
    assert 'value="' + typed + '"' in page


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"job": "nothing"}, "No open job has this number"),
        ({"by_day": "2026-11-29"}, "That moment is over"),
        ({"by_day": "yesterday"}, "Enter a valid date"),
        ({"here_on": "2026-11-01"}, "on a day that is over"),
    ],
)
def test_what_cannot_be_answered_says_why_and_keeps_what_was_typed(counter_client, bench, change, words):
    answer = counter_client.get("/promises/can", asked(**change))
    assert answer.status_code == 422
    assert words in text(answer)
    assert next(iter(change.values())) in text(answer)


def test_taking_a_job_that_breaks_nothing(counter_client, full):
    answer = counter_client.post("/promises/take", asked(job=full.number, by_day="2026-12-01"), follow=True)
    assert "taken for Tuesday 1 December 2026" in text(answer)
    assert Job.objects.get(pk=full.pk).promised_on == dt.date(2026, 12, 1)


def test_breaking_promises_asks_for_each_name_and_refuses_without(counter_client, full):
    sent = asked(job=full.number, by_time="11:00")
    page = text(counter_client.get("/promises/can", sent, **HTMX))
    assert "These promises would break" in page
    names = [job.number for job in Job.objects.exclude(pk=full.pk) if f'value="{job.number}"' in page]
    assert names
    refused = counter_client.post("/promises/take", sent)
    assert refused.status_code == 422
    assert "were not confirmed" in text(refused)
    assert not Job.objects.get(pk=full.pk).rush
    counter_client.post("/promises/take", {**sent, "breaks": names})
    assert Job.objects.get(pk=full.pk).rush
    assert Job.objects.get(number=names[0]).moments.filter(what="promise will break").exists()


def test_only_who_may_plan_takes(technician_client, counter_client, full):
    assert technician_client.post("/promises/take", asked(job=full.number)).status_code == 403
    assert counter_client.get("/promises/take").status_code == 405
    assert '<button class="act">Take it</button>' not in text(
        technician_client.get("/promises/can", asked(job=full.number, by_day="2026-12-01"), **HTMX)
    )


def test_a_new_job_is_opened_before_it_is_taken(counter_client, bench):
    assert "Open the job" in text(counter_client.get("/promises/can", asked(), **HTMX))
    answer = counter_client.post("/promises/take", asked())
    assert answer.status_code == 422
    assert "Open the job first" in text(answer)


def test_somebody_away_is_answered_by_name(counter_client, full, people):
    sent = {"person": people["signer"].pk, "first": "2026-11-30", "last": ""}
    page = text(counter_client.get("/promises/away", sent, **HTMX))
    assert "would break" in page
    assert "Without S. Alder" in page
    turned = counter_client.get("/promises/away", {**sent, "last": "2026-11-01"})
    assert turned.status_code == 422
    assert "That is before the first day." in text(turned)


def test_how_many_more_is_a_number(counter_client, bench):
    page = text(counter_client.get("/promises/room", {"service": "verify", "until": "2026-12-04"}, **HTMX))
    assert " more</p>" in page
    assert "without breaking a promise" in page


@pytest.mark.parametrize("address", ["/promises/can", "/promises/away", "/promises/room"])
def test_an_unasked_question_shows_its_form(technician_client, shop, address):
    assert technician_client.get(address).status_code == 200
    assert technician_client.post(address).status_code == 405
