"""An approved quote is carried to the bench: who, when, the words and the sum; nobody types it twice."""

import datetime as dt
from decimal import Decimal

import pytest
from django.utils import timezone

from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import Job
from flueproof.shop.records.money.quotes import approve, decline, let_pass, send_quote
from flueproof.shop.records.money.quoting import Wanted, write_quote
from flueproof.shop.records.visits.acts.approved import answered_quote, take_over, waits_for_owner
from flueproof.shop.records.visits.acts.deciding import decide, hold_for_owner
from flueproof.shop.records.visits.projection import record_tree
from flueproof.shop.records.visits.rules.call_first import last_decision


@pytest.fixture
def by(people):
    return people["counter"]


@pytest.fixture
def outside(owner, visit, ready, gas, rest):
    """A visit that found CO outside; its owner is called before anything is adjusted."""
    owner.call_first = True
    owner.save()
    gas(400)
    rest()
    gas(400, feed="instrument")
    return visit


@pytest.fixture
def quote(outside, job, by):
    made = write_quote(Job.objects.get(pk=job.pk), [Wanted("CO cell", Decimal("245.00"))], "weak", by, timezone.now())
    return send_quote(made, by, timezone.now())


def test_an_approval_on_the_phone_is_the_bench_s_decision_at_once(quote, outside, job, by):
    assert waits_for_owner(outside, timezone.now())
    approve(quote, "Ada Quay (invented)", "go ahead", timezone.now(), by)
    moment = last_decision(job)
    assert moment.by == by
    assert moment.text.startswith("go-on: said by Ada Quay (invented) on ")
    assert f"Quote {quote.number}, USD 245.00, approved on the phone or at the counter" in moment.text
    assert moment.text.endswith("go ahead")
    assert record_tree(outside)["steps"][-1]["text"].startswith("Owner's decision, go-on: said by Ada Quay")
    assert Job.objects.get(pk=job.pk).state == "bench"
    assert not waits_for_owner(outside, timezone.now())
    assert answered_quote(job) is None


def test_also_where_the_job_was_held_for_the_call_before_the_quote_went_out(outside, job, by, people):
    hold_for_owner(outside, people["technician"], timezone.now())
    made = write_quote(Job.objects.get(pk=job.pk), [Wanted("CO cell", Decimal(9))], "", by, timezone.now())
    approve(send_quote(made, by, timezone.now()), "Ada", "", timezone.now(), by)
    assert Job.objects.get(pk=job.pk).state == "bench"


def test_an_approval_by_link_waits_for_one_press_at_the_bench(quote, outside, job, people):
    approve(quote, "Ada", "yes", timezone.now())
    assert last_decision(job) is None
    found = answered_quote(job)
    assert (found.approved, found.said_by) == (True, "Ada")
    assert found.words == f"Quote {quote.number}, USD 245.00, approved by the link in the e-mail. yes"
    moment = take_over(outside, people["technician"], timezone.now())
    assert moment.by == people["technician"]
    assert take_over(outside, people["technician"], timezone.now()) is None
    assert job.moments.filter(what="owner-decision").count() == 1


def test_a_declined_quote_says_so_and_decides_nothing(quote, outside, job, by):
    decline(quote, "Ada", "too much", timezone.now(), by)
    found = answered_quote(job)
    assert (found.approved, found.said_by) == (False, "Ada")
    assert "declined on the phone" in found.words
    assert take_over(outside, by, timezone.now()) is None
    assert last_decision(job) is None


def test_a_decision_after_the_answer_counts_and_the_quote_is_offered_no_more(quote, outside, job, people):
    approve(quote, "Ada", "", timezone.now() - dt.timedelta(minutes=5))
    decide(outside, "return-unadjusted", "Ada", timezone.now(), "changed my mind", people["technician"], timezone.now())
    assert answered_quote(job) is None


def test_a_call_that_reached_nobody_leaves_the_approval_to_be_taken_over(quote, outside, job, people):
    approve(quote, "Ada", "", timezone.now() - dt.timedelta(minutes=5))
    decide(outside, "call-again", "nobody", timezone.now(), "", people["technician"], timezone.now())
    assert answered_quote(job).approved


def test_what_only_passed_is_no_answer_and_before_the_bench_nothing_is_carried(job, shop, by):
    job.spend_up_to = Decimal(300)
    job.save()
    made = write_quote(job, [Wanted("CO cell", Decimal(200))], "", by, timezone.now())
    let_pass(made, by, timezone.now())
    assert answered_quote(job) is None
    other = write_quote(job, [Wanted("CO cell", Decimal(400))], "", by, timezone.now())
    approve(send_quote(other, by, timezone.now()), "Ada", "", timezone.now(), by)
    assert last_decision(job) is None
    assert answered_quote(job).approved


def test_a_bench_that_waits_for_nobody_gets_no_decision(visit, ready, gas, rest, job, by, people):
    gas(500)
    rest()
    made = write_quote(job, [Wanted("case", Decimal(20))], "", by, timezone.now())
    approve(send_quote(made, by, timezone.now()), "Ada", "", timezone.now(), by)
    assert last_decision(job) is None
    assert move_job(job, "to-sign", people["technician"], timezone.now()).state == "to-sign"
