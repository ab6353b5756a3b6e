"""How promises were kept: by the first day told; what is still open, called off or of long ago does not count."""

import datetime as dt

from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import Job
from flueproof.shop.records.promises.clock import give_promise, note_clock
from flueproof.shop.records.promises.kept.figures import figures_at
from shop.planned import MONDAY, make_job

DAY = dt.timedelta(days=1)


def finish(job, people, at):
    for state in ("bench", "to-sign", "to-return"):
        move_job(job, state, people["signer"], at)


def spans(now=MONDAY):
    return [(span.days, span.ended, span.kept) for span in figures_at(now).spans]


def test_nothing_finished_is_nothing_counted(shop, owner):
    make_job(owner, 1, at=MONDAY - 20 * DAY)
    assert spans() == [(30, 0, 0), (90, 0, 0)]
    assert figures_at(MONDAY).broken == []


def test_a_job_that_is_done_by_its_first_day_is_kept(shop, owner, people):
    finish(make_job(owner, 1, at=MONDAY - 3 * DAY), people, MONDAY)
    assert spans() == [(30, 1, 1), (90, 1, 1)]


def test_a_broken_first_promise_stays_broken_when_the_new_day_is_kept(shop, owner, people):
    job = make_job(owner, 1, at=MONDAY - 21 * DAY)
    give_promise(job, MONDAY - DAY, people["counter"], day=MONDAY.date(), words="Ada agreed")
    finish(job, people, MONDAY)
    assert spans() == [(30, 1, 0), (90, 1, 0)]
    (broken,) = figures_at(MONDAY).broken
    assert (broken.number, broken.first, broken.told_again) == (job.number, dt.date(2026, 11, 17), 1)
    assert broken.late_by == 8  # business days from the seventeenth to the thirtieth, Thanksgiving out


def test_a_rush_promise_that_is_broken_counts_though_the_first_day_was_kept(shop, owner, people):
    job = make_job(owner, 1, at=MONDAY - 4 * DAY)
    give_promise(job, MONDAY - 4 * DAY, people["counter"], day=(MONDAY - 3 * DAY).date(), words="rush")
    finish(job, people, MONDAY)
    assert figures_at(MONDAY).broken[0].late_by == 1


def test_a_later_day_that_was_agreed_in_time_does_not_make_the_first_one_kept(shop, owner, people):
    job = make_job(owner, 1, at=MONDAY - 21 * DAY)
    give_promise(job, MONDAY - 20 * DAY, people["counter"], day=(MONDAY + DAY).date(), words="we cannot before")
    finish(job, people, MONDAY)
    (broken,) = figures_at(MONDAY).broken
    assert (broken.late_by, broken.told_again) == (8, 0)


def test_a_called_off_job_and_one_of_long_ago_do_not_count(shop, owner, people):
    dropped = make_job(owner, 1, at=MONDAY - 30 * DAY)
    note_clock(dropped, "called-off", MONDAY)
    finish(make_job(owner, 2, at=MONDAY - 60 * DAY), people, MONDAY - 50 * DAY)
    finish(make_job(owner, 3, at=MONDAY - 130 * DAY), people, MONDAY - 120 * DAY)
    assert spans() == [(30, 0, 0), (90, 1, 0)]


def test_a_job_that_was_not_ready_after_all_is_open_again(shop, owner, people):
    job = make_job(owner, 1, at=MONDAY - 3 * DAY)
    finish(job, people, MONDAY - DAY)
    move_job(job, "bench", people["signer"], MONDAY)
    assert Job.objects.get(pk=job.pk).state == "bench"
    assert spans() == [(30, 0, 0), (90, 0, 0)]
