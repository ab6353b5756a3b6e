"""A job that lived before there was a clock gets one from its moments."""

import datetime as dt

from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.promises.clock import clock_of
from flueproof.shop.records.promises.from_moments import clock_from_moments, jobs_without_a_clock

ZONE = dt.timezone(dt.timedelta(hours=-5))
MONDAY = dt.datetime(2026, 11, 30, 10, 0, tzinfo=ZONE)
DAY = dt.timedelta(days=1)


def moved(job, before, to, at, why=""):
    note_moment(job, "state", None, at, before=before, after=to, text=why)
    job.state = to
    job.save()


def test_its_stops_cost_what_they_did(shop, job):
    job.state, job.promised_on, job.opened_at = "requested", None, MONDAY - DAY
    job.save()
    moved(job, "requested", "arrived", MONDAY)
    moved(job, "arrived", "held", MONDAY + DAY, "call first")
    moved(job, "held", "bench", MONDAY + 3 * DAY)
    moved(job, "bench", "held", MONDAY + 4 * DAY, "a quote")
    assert jobs_without_a_clock() == [job]
    clock_from_moments(job, MONDAY + 4 * DAY)
    state = clock_of(job, MONDAY + 4 * DAY)
    assert (state.status, state.day_zero, state.moved_days) == ("standing", MONDAY.date(), 2)
    assert [stop.words for stop in state.stops] == ["call first", "a quote"]
    assert job.promised_on == dt.date(2026, 12, 9)
    assert jobs_without_a_clock() == []
    assert clock_from_moments(job, MONDAY + 4 * DAY) == 0


def test_a_job_opened_with_its_box_came_when_it_was_opened_and_keeps_its_day(shop, job):
    job.opened_at = MONDAY
    job.save()
    clock_from_moments(job, MONDAY + DAY)
    state = clock_of(job, MONDAY + DAY)
    assert (state.started_at, state.promised_on) == (MONDAY, dt.date(2026, 12, 1))


def test_a_job_that_went_back_ended(shop, job):
    job.opened_at = MONDAY
    moved(job, "arrived", "to-return", MONDAY + DAY)
    moved(job, "to-return", "bench", MONDAY + DAY)
    moved(job, "bench", "to-return", MONDAY + DAY)
    moved(job, "to-return", "returned", MONDAY + DAY)
    assert jobs_without_a_clock() == []
    clock_from_moments(job, MONDAY + 2 * DAY)
    assert clock_of(job, MONDAY + 2 * DAY).status == "done"


def test_a_job_whose_box_is_not_here_is_left_alone(shop, job):
    job.state = "requested"
    job.save()
    assert clock_from_moments(job, MONDAY) == 0
    assert jobs_without_a_clock() == []
