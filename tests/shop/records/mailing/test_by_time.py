"""Letters that time writes: ready some minutes after signing, due soon to owners who agreed; each once."""

import datetime as dt

import pytest

from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.mailing.by_time import READY_AFTER, write_due_letters, write_ready_letters
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


@pytest.fixture
def signed(bench, job, people, now):
    """A job whose paper was signed now."""
    job.state = "to-sign"
    job.save()
    return move_job(job, "to-return", people["signer"], now)


def test_ready_is_written_ten_minutes_after_signing_and_once(signed, now):
    assert write_ready_letters(now + READY_AFTER / 2) == 0
    assert write_ready_letters(now + READY_AFTER) == 1
    assert write_ready_letters(now + READY_AFTER) == 0
    letter = Letter.objects.get()
    assert (letter.kind, letter.job) == ("ready", signed)


def test_a_box_that_waits_for_money_says_so(signed, now):
    signed.payment_held = True
    signed.save()
    write_ready_letters(now + READY_AFTER)
    assert "as soon as the bill is paid" in Letter.objects.get().text


def test_a_box_that_was_handed_over_at_once_needs_no_letter(signed, people, now):
    move_job(signed, "returned", people["counter"], now)
    assert write_ready_letters(now + READY_AFTER) == 0


def test_a_box_that_came_back_from_the_carrier_is_not_told_ready_again(signed, people, now):
    write_ready_letters(now + READY_AFTER)
    shipped = move_job(signed, "shipped", people["counter"], now + DAY / 24)
    move_job(shipped, "to-return", people["counter"], now + DAY / 12)
    assert write_ready_letters(now + DAY / 2) == 0


def test_signed_anew_is_told_anew(signed, people, now):
    write_ready_letters(now + READY_AFTER)
    later = now + DAY / 24
    for to in ("bench", "to-sign", "to-return"):
        move_job(signed, to, people["signer"], later)
    assert write_ready_letters(later + READY_AFTER) == 1


def test_what_was_signed_long_ago_is_left_alone(signed, now):
    assert write_ready_letters(now + 3 * DAY) == 0


def test_where_nobody_can_be_written_to_the_job_says_so_once(signed, now):
    OwnerContact.objects.get(owner=signed.owner).delete()
    for _ in range(2):
        assert write_ready_letters(now + READY_AFTER) == 0
    assert signed.moments.filter(what="letter").count() == 1
