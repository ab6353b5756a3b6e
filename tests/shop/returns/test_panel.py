"""The part of a job's page: alone and inside it; only what the job has is there."""

import datetime as dt
from decimal import Decimal

import pytest
from django.urls import reverse

from flueproof.shop.records.models import Job
from flueproof.shop.records.money.quotes import send_quote


def shown(client, job, **headers):
    return client.get(reverse("returns:job-panel", args=[job.number]), headers=headers).content.decode()


def test_it_stands_alone_and_comes_as_a_part(counter_client, job, shop):
    assert "<html" in shown(counter_client, job)
    part = shown(counter_client, job, hx_request="true")
    assert "<html" not in part
    assert '<section class="sheet"' in part


def test_the_jobs_page_asks_for_it(counter_client, job, shop):
    page = counter_client.get(reverse("counter:job", args=[job.number])).content.decode()
    assert f'hx-get="{reverse("returns:job-panel", args=[job.number])}"' in page


@pytest.mark.parametrize("state", [state for state, _ in Job.STATES])
def test_it_stands_in_every_state(counter_client, job, shop, state):
    job.state = state
    job.save()
    assert "Way back" in shown(counter_client, job)


def test_what_is_open_is_said(counter_client, leaving):
    leaving.payment_held = True
    leaving.save()
    text = shown(counter_client, leaving)
    assert "Not packed" in text
    assert "only when it is paid" in text


def test_a_packed_box_is_to_be_shipped(counter_client, packed):
    assert "Packed" in shown(counter_client, packed)


def test_quotes_stand_with_their_state_and_who_may_not_quote_is_offered_none(client_of, quote, people, now):
    send_quote(quote, people["counter"], now)
    job = Job.objects.get(pk=quote.job_id)
    assert "sent, no answer yet" in shown(client_of("technician"), job)
    assert "Write a quote" not in shown(client_of("technician"), job)
    assert "Write a quote" in shown(client_of("counter"), job)


def test_a_comeback_is_offered(counter_client, job, shop, now):
    first = Job.objects.create(
        number="J-2026-00001", owner=job.owner, analyzer=job.analyzer, state="returned", opened_at=now
    )
    first.closed_at = now - dt.timedelta(days=3)
    first.save()
    Job.objects.filter(pk=job.pk)
    later = Job.objects.create(
        number="J-2026-00099", owner=job.owner, analyzer=job.analyzer, state="arrived", opened_at=now
    )
    assert "Did it come back?" in shown(counter_client, later)
    counter_client.post(reverse("returns:comeback", args=[later.number]))
    assert Job.objects.get(pk=later.pk).first_job == first
    assert "A comeback of" in shown(counter_client, later)


def test_a_stolen_analyzer_is_told_on_top(counter_client, job, shop):
    job.analyzer.whereabouts, job.analyzer.whereabouts_words = "stolen", "police 771/26."
    job.analyzer.save()
    assert "reported stolen" in shown(counter_client, job)


def test_a_loan_unit_is_offered_where_the_promise_is_at_risk(counter_client, job, unit):
    job.promised_on = dt.date(2026, 11, 1)
    job.save()
    assert "Offer one meanwhile" in shown(counter_client, job)


def test_what_was_typed_is_escaped(counter_client, job, shop):
    job.analyzer.whereabouts, job.analyzer.whereabouts_words = "lost", "<script>alert(1)</script>"
    job.analyzer.save()
    assert "<script>alert" not in shown(counter_client, job)


def test_what_the_order_allows_stands_there(counter_client, job, shop):
    job.spend_up_to = Decimal("250.00")
    job.save()
    assert "250.00" in shown(counter_client, job)
