"""Nothing is adjusted before the owner has decided, where so ordered or agreed."""

import datetime as dt

import pytest
from django.utils import timezone

from flueproof.bench.errors import RecordError
from flueproof.shop.records.visits.acts.deciding import decide, hold_for_owner
from flueproof.shop.records.visits.acts.finishing import may_be_signed
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.next_step import next_step
from flueproof.shop.records.visits.rules.call_first import decision_of, last_decision

WORK = (
    {"kind": "adjust", "channel": "co", "accepted": True},
    {"kind": "part", "done": "replaced", "what": "pump", "opened_case": True},
    {"kind": "upkeep", "done": "cleaned"},
)


@pytest.fixture
def outside(job, owner, visit, ready, gas, rest):
    """Found outside at CO, its owner to be called first."""
    owner.call_first = True
    owner.save()
    gas(400)
    rest()
    gas(400, feed="instrument")
    visit.refresh_from_db()
    return visit


@pytest.fixture
def said(visit, people):
    def said(decision, minutes_ago=5, by="Ada Quay (invented)", words=""):
        now = timezone.now()
        at = now - dt.timedelta(minutes=minutes_ago)
        return decide(visit, decision, by, at, words, people["technician"], now)

    return said


@pytest.mark.parametrize("step", WORK, ids=lambda one: one["kind"])
def test_work_is_refused_before_the_decision(outside, add, step):
    with pytest.raises(RecordError, match="the owner is to be called"):
        add(**step)


def test_the_page_says_call_before_it_says_adjust(outside, job):
    assert next_step(judged(outside), outside.job, timezone.now()).kind == "call-owner"


def test_the_hold_stops_the_clock_and_a_second_press_does_nothing(outside, people, job):
    now = timezone.now()
    held = hold_for_owner(outside, people["technician"], now)
    again = hold_for_owner(outside, people["technician"], now + dt.timedelta(minutes=1))
    assert held.state == "held"
    assert held.clock_stopped_at == again.clock_stopped_at == now
    assert job.moments.filter(state_after="held").count() == 1


def test_nobody_is_called_about_a_healthy_unit(visit, ready, gas, rest, people):
    gas(500)
    rest()
    with pytest.raises(RecordError, match="nothing here asks for a call"):
        hold_for_owner(visit, people["technician"], timezone.now())


def test_go_on_lets_the_work_begin_and_the_clock_run(outside, said, add, people, job):
    hold_for_owner(outside, people["technician"], timezone.now())
    said("go-on", words="Adjust it, up to 90.")
    job.refresh_from_db()
    assert job.state == "bench"
    assert job.clock_stopped_at is None
    add(**WORK[0])
    assert judged(outside).phase == "as-left"


def test_the_decision_stands_in_job_and_record_with_who_and_when(outside, said, job):
    said("go-on", words="Adjust it.")
    kept = last_decision(job)
    assert decision_of(kept) == "go-on"
    assert "Ada Quay (invented)" in kept.text
    assert "Adjust it." in kept.text
    assert any("Owner's decision, go-on" in step.get("text", "") for step in judged(outside).tree["steps"])


def test_returned_unadjusted_becomes_a_verification_outside_as_ordered(outside, said, add, job):
    said("return-unadjusted")
    found = judged(outside)
    assert found.judgement.as_found.outcome == "outside-as-ordered"
    assert may_be_signed(found)
    job.refresh_from_db()
    assert job.service == "verify"
    with pytest.raises(RecordError, match="unadjusted"):
        add(**WORK[0])


def test_call_again_keeps_the_hold(outside, said, add, people, job):
    hold_for_owner(outside, people["technician"], timezone.now())
    said("call-again")
    job.refresh_from_db()
    assert job.state == "held"
    with pytest.raises(RecordError, match="has not decided yet"):
        add(**WORK[0])


def test_the_same_decision_twice_is_kept_once(outside, people, job):
    now = timezone.now()
    for _ in range(2):
        decide(outside, "go-on", "Ada", now - dt.timedelta(minutes=3), "", people["technician"], now)
    assert job.moments.filter(what="owner-decision").count() == 1


def test_an_unknown_decision_and_a_call_in_the_future_are_refused(outside, said):
    with pytest.raises(RecordError, match="no decision"):
        said("perhaps")
    with pytest.raises(RecordError, match="future"):
        said("go-on", minutes_ago=-30)


def test_an_order_to_call_first_bars_work_whatever_was_found(job, visit, ready, add, gas, rest):
    job.service = "call-first"
    job.save()
    gas(500)
    rest()
    with pytest.raises(RecordError, match="the owner is to be called"):
        add(**WORK[2])


def test_without_such_an_agreement_nobody_needs_to_be_called(visit, ready, gas, rest, add):
    gas(400)
    rest()
    assert add(**WORK[2]).kind == "step"


def test_a_decision_after_the_work_began_is_a_note(outside, said, add):
    said("go-on")
    add(**WORK[0])
    with pytest.raises(RecordError, match="the work has begun"):
        said("return-unadjusted")
