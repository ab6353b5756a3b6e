"""Pages of the job list: every job once, in the order of the promise, by filters, from any key."""

import datetime as dt

import pytest

from flueproof.shop.records.jobs.listing import JobFilter, PageKeyError, job_page, open_counts
from flueproof.shop.records.models import Job, Visit

DAYS = [3, None, 1, 1, None, 2, 5, None]


@pytest.fixture
def jobs(owner, analyzer, now):
    """Eight open jobs, promised or not, and three that are closed."""
    states = ["arrived"] * len(DAYS) + ["returned"] * 3
    days = [*DAYS, 1, None, 2]
    return [
        Job.objects.create(
            number=f"J-2026-{number:05}",
            owner=owner,
            analyzer=analyzer,
            state=state,
            rush=number == 2,
            promised_on=dt.date(2026, 12, day) if day else None,
            opened_at=now,
        )
        for number, (state, day) in enumerate(zip(states, days, strict=True))
    ]


def all_pages(wanted, size):
    found, key = [], ""
    for _ in range(20):
        page = job_page(wanted, key, size)
        found += [int(job.number[-5:]) for job in page.jobs]
        key = page.next_key
        if not key:
            return found
    raise AssertionError("the list has no end")


@pytest.mark.parametrize("size", [1, 2, 3, 5, 8, 30])
def test_open_jobs_come_by_promise_undated_last_each_once(jobs, size):
    assert all_pages(JobFilter(), size) == [2, 3, 5, 0, 6, 1, 4, 7]


@pytest.mark.parametrize("size", [1, 2, 30])
def test_closed_jobs_come_newest_promise_first(jobs, size):
    assert all_pages(JobFilter(state="returned"), size) == [10, 8, 9]


def test_filters_narrow_the_open_ones(jobs, people, now):
    Visit.objects.create(job=jobs[5], number=1, opened_at=now, opened_by=people["technician"])
    assert all_pages(JobFilter(rush=True), 30) == [2]
    assert all_pages(JobFilter(late_on=dt.date(2026, 12, 3)), 1) == [2, 3, 5]
    assert all_pages(JobFilter(mine=people["technician"]), 30) == [5]
    assert all_pages(JobFilter(state="held"), 30) == []


@pytest.mark.parametrize("key", ["x", "later.x", "2026-13-01.4", "2026-12-01"])
def test_a_key_that_no_page_gave_out_is_refused(db, key):
    with pytest.raises(PageKeyError, match="first page"):
        job_page(JobFilter(), key)


def test_counts_name_every_open_state(jobs):
    assert open_counts() == dict.fromkeys(Job.OPEN, 0) | {"arrived": 8}


def test_a_page_costs_two_questions_however_long_the_list(jobs, django_assert_max_num_queries):
    with django_assert_max_num_queries(2):
        [(job.owner.name, job.analyzer.serial) for job in job_page(JobFilter(), size=5).jobs]
