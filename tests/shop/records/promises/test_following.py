"""The clock follows the moves of a job and a changed order."""

import datetime as dt

import pytest

from flueproof.shop.records.gas.holding import WAITS_FOR
from flueproof.shop.records.jobs.box import arrive
from flueproof.shop.records.jobs.holding import hold, release
from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import ClockEvent, Job
from flueproof.shop.records.promises.clock import clock_of
from flueproof.shop.records.promises.following import box_is_here, follow_order, follow_payment

ZONE = dt.timezone(dt.timedelta(hours=-5))
MONDAY = dt.datetime(2026, 11, 30, 10, 0, tzinfo=ZONE)


@pytest.fixture
def here(shop, people, job):
    """A job whose box came on Monday, with all its papers."""
    job.state, job.promised_on, job.received_on = "requested", None, None
    job.save()
    return arrive(job, people["counter"], MONDAY)


def kinds(job):
    return [(row.kind, row.cause) for row in ClockEvent.objects.filter(job=job) if row.kind != "promised"]


def test_a_box_that_comes_with_its_papers_starts_the_clock(here):
    assert clock_of(here, MONDAY).status == "running"
    assert here.promised_on == dt.date(2026, 12, 7)


def test_a_box_that_is_entered_a_day_later_counts_from_the_morning_it_came(shop, people, job):
    job.state, job.promised_on, job.received_on = "requested", None, dt.date(2026, 11, 27)
    job.save()
    arrive(job, people["counter"], MONDAY)
    assert clock_of(job, MONDAY).day_zero == dt.date(2026, 11, 27)


def test_a_box_without_its_papers_waits_for_them(shop, people, owner, job):
    owner.contacts.all()[0].delete()
    job.state, job.promised_on = "requested", None
    job.save()
    arrive(job, people["counter"], MONDAY)
    state = clock_of(Job.objects.get(), MONDAY)
    assert state.status == "not-started"
    assert state.missing == (f"paperwork: a phone number or an e-mail of {owner}",)


@pytest.mark.parametrize(("to", "why"), [("held", "owner"), ("parts", "parts"), ("sent-on", "other-shop")])
def test_a_job_that_waits_stops_and_one_that_goes_on_runs(here, people, to, why):
    job = move_job(here, to, people["counter"], MONDAY, waits_for="something")
    assert [(stop.why, stop.words) for stop in clock_of(job, MONDAY).standing] == [(why, "something")]
    job = move_job(job, "bench", people["counter"], MONDAY + dt.timedelta(days=1))
    assert clock_of(job, MONDAY + dt.timedelta(days=1)).status == "running"
    assert job.promised_on == dt.date(2026, 12, 8)


def test_a_hold_is_noted_with_what_it_waits_for_and_released(here, people):
    job = hold(here, people["counter"], MONDAY, "probe leaks", "yes to a new probe")
    job = release(job, "bench", people["counter"], MONDAY + dt.timedelta(days=2), "Ada", "yes")
    (stop,) = clock_of(job, MONDAY + dt.timedelta(days=2)).stops
    assert (stop.words, stop.moved) == ("yes to a new probe", 2)


def test_a_failed_morning_check_is_our_own_delay_and_stops_nothing(here, people):
    job = move_job(here, "held", people["technician"], MONDAY, waits_for=WAITS_FOR)
    assert clock_of(job, MONDAY).status == "running"
    move_job(job, "bench", people["technician"], MONDAY)
    assert clock_of(job, MONDAY).notices == ()


def test_ready_keeps_the_promise_and_not_ready_after_all_takes_that_back(here, people):
    job = move_job(move_job(here, "bench", None, MONDAY), "to-sign", None, MONDAY)
    job = move_job(job, "to-return", people["signer"], MONDAY)
    assert clock_of(job, MONDAY).status == "done"
    job = move_job(job, "bench", people["signer"], MONDAY + dt.timedelta(days=1))
    assert clock_of(job, MONDAY + dt.timedelta(days=1)).status == "running"
    assert kinds(job)[-2:] == [("ready", ""), ("went-on", "ready")]


def test_a_promise_of_delivery_ends_when_it_is_delivered_and_stands_while_it_is_not_paid(shop, here, people):
    shop.promise_means = "delivered"
    shop.save()
    job = Job.objects.create(
        number="J-2", owner=here.owner, analyzer=here.analyzer, opened_at=MONDAY, payment_held=True
    )
    job = arrive(job, people["counter"], MONDAY)
    job = move_job(move_job(job, "bench", None, MONDAY), "to-return", None, MONDAY)
    state = clock_of(job, MONDAY)
    assert [stop.why for stop in state.standing] == ["payment"]
    job.payment_held = False
    job.save()
    follow_payment(job, people["counter"], MONDAY + dt.timedelta(days=1))
    assert clock_of(job, MONDAY + dt.timedelta(days=1)).status == "running"
    job = move_job(job, "shipped", people["counter"], MONDAY + dt.timedelta(days=1))
    assert clock_of(job, MONDAY + dt.timedelta(days=1)).status == "running"
    job = move_job(job, "returned", people["counter"], MONDAY + dt.timedelta(days=3))
    assert clock_of(job, MONDAY + dt.timedelta(days=3)).status == "done"


def test_a_dropped_job_owes_nothing_and_begins_anew_when_taken_up_again(here, people):
    job = move_job(here, "dropped", people["counter"], MONDAY)
    assert clock_of(job, MONDAY).status == "dropped"
    job = move_job(job, "requested", people["counter"], MONDAY)
    box_is_here(job, people["counter"], MONDAY + dt.timedelta(days=1))
    assert clock_of(job, MONDAY + dt.timedelta(days=1)).missing == ("the paperwork",)


def test_another_service_moves_the_promise_and_never_backwards(here, people):
    here.service, here.spend_up_to = "repair", 100
    here.save()
    follow_order(here, people["counter"], MONDAY)
    assert here.promised_on == dt.date(2026, 12, 9)
    here.service = "verify"
    here.save()
    follow_order(here, people["counter"], MONDAY)
    assert here.promised_on == dt.date(2026, 12, 9)


def test_a_day_typed_into_the_job_is_a_promise_by_hand(here, people):
    here.promised_on = dt.date(2026, 12, 4)
    here.save()
    follow_order(here, people["counter"], MONDAY)
    follow_order(here, people["counter"], MONDAY)
    assert clock_of(here, MONDAY).promised_on == dt.date(2026, 12, 4)
    assert here.moments.filter(what="promise given").count() == 1


def test_an_owner_who_is_merged_while_a_job_runs_leaves_its_promise(here, people):
    other = type(here.owner).objects.create(name="Tidewater (invented)", promise_days=1)
    here.owner.merged_into = other
    here.owner.save()
    here.owner = other
    here.save()
    follow_order(here, people["counter"], MONDAY)
    assert clock_of(here, MONDAY).promised_on == dt.date(2026, 12, 7)
