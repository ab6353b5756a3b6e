"""Promises through the API: where one stands and why, and what the phone is asked, from a program."""

import datetime as dt

import pytest

from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import ClockEvent, Plan
from shop.planned import MONDAY, give_hours, make_job, make_stations

from .test_openapi import fits_its_schema


@pytest.fixture
def monday(monkeypatch):
    """It is Monday, nine o'clock, whenever anybody asks."""
    monkeypatch.setattr("django.utils.timezone.now", lambda: MONDAY)


@pytest.fixture
def bench(shop, people, owner, monday):
    """Two people, two stations, three jobs."""
    give_hours(people)
    make_stations()
    return [make_job(owner, number) for number in (1, 2, 3)]


def test_the_promise_of_a_job_says_its_day_and_every_stop(call, bench, people):
    job = move_job(bench[0], "parts", people["counter"], MONDAY, waits_for="CO cell")
    answer = call("get", f"/jobs/{job.number}/promise")
    assert answer.status_code == 200
    assert fits_its_schema("get", f"/jobs/{job.number}/promise", answer)
    told = answer.json()
    assert (told["status"], told["promised_on"], told["late_by_days"]) == ("standing", "2026-12-07", 0)
    (stop,) = told["stops"]
    assert (stop["why"], stop["words"], stop["until"]) == ("parts", "CO cell", None)
    assert "7 December 2026" in told["in_words_for_the_owner"]


def test_a_job_whose_box_is_not_here_has_no_promise_yet(call, job, monday):
    job.state, job.promised_on = "requested", None
    job.save()
    told = call("get", f"/jobs/{job.number}/promise").json()
    assert (told["status"], told["promised_on"], told["stops"]) == ("not-started", None, [])
    assert call("get", "/jobs/J-9/promise").status_code == 404


def test_can_it_be_done_is_answered_and_nothing_is_kept(call, bench):
    answer = call("get", "/promises/can?by=2026-12-01T15:00:00-05:00")
    assert answer.status_code == 200
    assert fits_its_schema("get", "/promises/can", answer)
    told = answer.json()
    assert (told["verdict"], told["job"]) == ("yes", None)
    assert dt.datetime.fromisoformat(told["ends"]) <= dt.datetime.fromisoformat(told["by"])
    mine = call("get", f"/promises/can?by=2026-12-01T15:00:00-05:00&job={bench[0].number}").json()
    assert mine["job"] == bench[0].number
    assert not Plan.objects.exists()
    assert not ClockEvent.objects.filter(kind="promised", by__isnull=False).exists()


def test_what_cannot_be_done_says_when_it_can(call, bench):
    told = call("get", "/promises/can?by=2026-11-30T09:10:00-05:00&here_on=2026-11-30").json()
    assert told["verdict"] == "no"
    assert told["earliest"] >= told["soonest"] > told["by"]


def test_a_rush_names_the_promises_it_would_break(call, shop, people, owner, monday):
    give_hours(people)
    make_stations()
    for number in range(1, 11):
        make_job(owner, number, promised_on=MONDAY.date())
    rush = make_job(owner, 99)
    told = call("get", f"/promises/can?by=2026-11-30T16:30:00-05:00&job={rush.number}").json()
    assert told["verdict"] in {"costs promises", "no"}
    assert any(one["breaks"] for one in told["later"])


@pytest.mark.parametrize(
    ("query", "status"),
    [
        ("", 422),
        ("by=tomorrow", 422),
        ("by=2026-12-01T15:00:00", 422),
        ("by=2020-12-01T15:00:00-05:00", 422),
        ("by=9999-12-31T23:59:59-23:59", 422),
        ("by=0001-01-01T00:00:00%2B23:00", 422),
        ("by=2028-12-01T15:00:00-05:00", 422),
        ("by=2026-12-01T15:00:00-05:00&here_on=9999-12-31", 422),
        ("by=2026-12-01T15:00:00-05:00&service=magic", 422),
        ("by=2026-12-01T15:00:00-05:00&here_on=2020-01-01", 422),
        ("by=2026-12-01T15:00:00-05:00&job=J-9", 404),
        ("by=2026-12-01T15:00:00-05:00&model=%00", 422),
    ],
)
def test_a_question_that_makes_no_sense_is_refused(call, bench, query, status):
    assert call("get", f"/promises/can?{query}").status_code == status


def test_a_shop_without_hours_or_stations_cannot_answer(call, shop, monday):
    answer = call("get", "/promises/can?by=2026-12-01T15:00:00-05:00")
    assert answer.status_code == 422
    assert answer.json()["error"]["message"]


def test_a_closed_job_is_not_asked_about(call, bench):
    bench[0].state = "returned"
    bench[0].save()
    assert call("get", f"/promises/can?by=2026-12-01T15:00:00-05:00&job={bench[0].number}").status_code == 409


def test_it_needs_the_right_to_see_the_plan(caller_with, bench):
    assert caller_with("see-jobs")("get", f"/jobs/{bench[0].number}/promise").status_code == 403
