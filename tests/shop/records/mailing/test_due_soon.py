"""Reminders go once, in time, and only to owners who agreed."""

import datetime as dt

import pytest

from flueproof.shop.records.mailing.due_soon import write_due_letters
from flueproof.shop.records.models import Letter, Obligation, OwnerContact

DAY = dt.timedelta(days=1)


@pytest.fixture
def due(bench, job, now):
    """An analyzer that went back a year ago and is due in three weeks."""
    job.state, job.closed_at = "returned", now - 344 * DAY
    job.save()
    return Obligation.objects.create(analyzer=job.analyzer, next_due=now.date() + 21 * DAY, agreed_by="Ada")


def test_a_reminder_is_written_once_with_the_day(due, now, job):
    assert write_due_letters(now) == 1
    assert write_due_letters(now) == 0
    assert write_due_letters(now + 20 * DAY) == 0
    letter = Letter.objects.get()
    assert "due on 16 December 2026" in letter.subject
    assert letter.job == job


def test_a_year_later_there_is_a_reminder_again(due, now):
    write_due_letters(now)
    due.next_due += 365 * DAY
    due.save()
    assert write_due_letters(now + 365 * DAY) == 1


@pytest.mark.parametrize(("days", "written"), [(-1, 0), (0, 1), (30, 1), (31, 0)])
def test_it_is_written_in_the_last_thirty_days(due, now, days, written):
    due.next_due = now.date() + days * DAY
    due.save()
    assert write_due_letters(now) == written


@pytest.mark.parametrize(
    ("what", "field", "value"),
    [
        ("owner", "due_agreed", False),
        ("owner", "no_letters", True),
        ("analyzer", "whereabouts", "lost"),
        ("analyzer", "whereabouts", "stolen"),
        ("job", "state", "bench"),
    ],
)
def test_who_did_not_agree_or_cannot_need_it_is_left_alone(due, now, job, what, field, value):
    row = {"owner": job.owner, "analyzer": job.analyzer, "job": job}[what]
    setattr(row, field, value)
    row.save()
    assert write_due_letters(now) == 0
    assert not Letter.objects.exists()


def test_without_an_address_nothing_is_written_again_and_again(due, now, job):
    OwnerContact.objects.get(owner=job.owner).delete()
    assert write_due_letters(now) == 0
    assert not job.moments.exists()
