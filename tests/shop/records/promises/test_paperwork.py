"""What must be known before the clock starts, each missing thing in words."""

import datetime as dt

import pytest

from flueproof.shop.records.models import OwnerQuestion
from flueproof.shop.records.promises.clock import clock_of, note_clock
from flueproof.shop.records.promises.paperwork import check_paperwork, missing_paperwork

MONDAY = dt.datetime(2026, 11, 30, 15, 0, tzinfo=dt.UTC)


def whats(job):
    return [one.what for one in missing_paperwork(job)]


def test_a_job_with_all_that_is_needed_misses_nothing(job):
    assert whats(job) == []


def test_an_owner_who_cannot_be_reached_and_has_no_address_is_asked_for_both(job, owner):
    for row in (*owner.contacts.all(), *owner.addresses.all()):
        row.delete()
    assert whats(job) == ["owner-contact", "return-address"]
    job.return_address = "will be collected"
    assert whats(job) == ["owner-contact"]


@pytest.mark.parametrize(
    ("change", "what"),
    [
        ({"service": "repair", "spend_up_to": 50, "complaint": " "}, "complaint"),
        ({"service": "repair"}, "spend-up-to"),
        ({"limits": {}}, "limits"),
        ({"limits": "their own"}, "limits"),
        ({"decision_rule": ""}, "decision-rule"),
        ({"enclosed_announced": ["Hose", "charger"]}, "enclosed"),
    ],
)
def test_what_the_order_lacks_is_named(job, change, what):
    for name, value in change.items():
        setattr(job, name, value)
    assert whats(job) == [what]


def test_the_serial_the_whereabouts_and_as_found_are_asked_for(job):
    job.analyzer.serial, job.analyzer.whereabouts = "not read yet (J-1)", "stolen"
    job.analyzer.as_found_needed, job.as_found = True, False
    assert whats(job) == ["serial", "whereabouts", "as-found"]


def test_a_part_that_was_asked_for_or_waived_is_no_more_missing(job, people):
    job.enclosed_announced = ["probe", "charger"]
    OwnerQuestion.objects.create(
        job=job, kind="missing-part", subject="Charger", words="Where?", asked_at=MONDAY, asked_by=people["counter"]
    )
    assert whats(job) == []


def test_an_open_question_about_the_paperwork_is_missing_until_it_is_answered(job, people):
    asked = OwnerQuestion.objects.create(
        job=job, kind="paperwork", words="Which limits?", asked_at=MONDAY, asked_by=people["counter"]
    )
    assert [one.words for one in missing_paperwork(job)] == ["the answer to: Which limits?"]
    asked.state = "answered"
    asked.save()
    assert whats(job) == []


def test_complete_paperwork_starts_the_clock_and_incomplete_says_what_is_missing(shop, job, people):
    job.promised_on, job.service = None, "repair"
    job.save()
    note_clock(job, "arrived", MONDAY)
    check_paperwork(job, people["counter"], MONDAY)
    assert "up to what sum" in clock_of(job, MONDAY).missing[0]
    job.spend_up_to = 80
    job.save()
    assert check_paperwork(job, people["counter"], MONDAY) == []
    assert clock_of(job, MONDAY).status == "running"
    job.enclosed_announced = ["charger"]
    job.save()
    assert len(check_paperwork(job, people["counter"], MONDAY)) == 1
    assert clock_of(job, MONDAY).status == "running"


def test_nothing_is_told_before_the_box_is_here(shop, job, people):
    job.state = "requested"
    job.save()
    check_paperwork(job, people["counter"], MONDAY)
    assert not job.clock_events.exists()
