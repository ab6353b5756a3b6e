"""Taking a rush job: no promise is broken silently."""

import datetime as dt

import pytest

from flueproof.shop.records.models import Job, Plan
from flueproof.shop.records.promises.planning import make_plan
from flueproof.shop.records.promises.questions import Asked, CannotAnswerError, can_be_done
from flueproof.shop.records.promises.taking import NotConfirmedError, take
from shop.planned import MONDAY, give_hours, make_job, make_stations

DAY = dt.timedelta(days=1)


@pytest.fixture
def full(shop, people, owner):
    give_hours(people)
    make_stations()
    jobs = [make_job(owner, number, promised_on=MONDAY.date()) for number in range(1, 11)]
    rush = make_job(owner, 99, promised_on=(MONDAY + 5 * DAY).date())
    make_plan(MONDAY)
    return rush, jobs


def test_a_job_that_breaks_nothing_is_taken_and_promised(full, people):
    rush, _ = full
    plan = take(Asked((MONDAY + 2 * DAY).replace(hour=16), rush), (), people["counter"], MONDAY)
    row = Job.objects.get(pk=rush.pk)
    assert (row.rush, row.promised_on) == (True, (MONDAY + 2 * DAY).date())
    assert row.moments.get(what="rush taken").text == "for Wednesday 2 December 2026; breaks no promise"
    assert make_plan(MONDAY) == plan


def test_promises_that_break_must_be_confirmed_by_name_and_are_kept_with_each_job(full, people):
    rush, _ = full
    asked = Asked(MONDAY.replace(hour=11), rush)
    with pytest.raises(NotConfirmedError) as refused:
        take(asked, (), people["counter"], MONDAY)
    names = [one.number for one in refused.value.answer.breaks]
    assert names
    assert all(name in str(refused.value) for name in names)
    assert not Job.objects.get(pk=rush.pk).rush
    assert Plan.objects.count() == 1
    with pytest.raises(NotConfirmedError):
        take(asked, names[:-1], people["counter"], MONDAY)
    take(asked, names, people["counter"], MONDAY)
    for name in names:
        moment = Job.objects.get(number=name).moments.get(what="promise will break")
        assert f"{rush.number} was taken before it" in moment.text
        assert moment.by == people["counter"]
    assert names[0] in rush.moments.get(what="rush taken").text


def test_the_plan_keeps_what_was_taken(full, people):
    rush, _ = full
    asked = Asked(MONDAY.replace(hour=11), rush)
    names = [one.number for one in can_be_done(asked, MONDAY).breaks]
    take(asked, names, people["counter"], MONDAY)
    content = make_plan(MONDAY + dt.timedelta(hours=1)).content
    assert content["jobs"][rush.number]["ends"] <= content["jobs"][rush.number]["due"]


def test_what_cannot_be_done_is_not_taken_and_a_job_that_is_not_open_yet_neither(full, people):
    rush, _ = full
    with pytest.raises(CannotAnswerError, match="cannot be done by then"):
        take(Asked(MONDAY + dt.timedelta(minutes=10), rush), (), people["counter"], MONDAY)
    with pytest.raises(CannotAnswerError, match="Open the job first"):
        take(Asked(MONDAY + DAY), (), people["counter"], MONDAY)
    assert not Job.objects.get(pk=rush.pk).rush
