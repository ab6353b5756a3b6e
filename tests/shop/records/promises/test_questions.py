"""Questions on the phone, answered from the plan; nothing is kept by asking."""

import datetime as dt

import pytest

from flueproof.shop.records.models import Plan
from flueproof.shop.records.promises.planning import make_plan
from flueproof.shop.records.promises.questions import (
    Asked,
    CannotAnswerError,
    can_be_done,
    how_many_more,
    who_is_away,
)
from shop.planned import MONDAY, give_hours, make_job, make_stations

TODAY_NOON = MONDAY.replace(hour=12)
DAY = dt.timedelta(days=1)


@pytest.fixture
def bench(shop, people, owner):
    give_hours(people)
    make_stations()


@pytest.fixture
def full(bench, owner):
    """As many jobs as can be done today, all promised for today, and a plan of them."""
    jobs = [make_job(owner, number, promised_on=MONDAY.date()) for number in range(1, 11)]
    make_plan(MONDAY)
    return jobs


def test_an_empty_bench_says_yes_and_when(bench):
    answer = can_be_done(Asked(TODAY_NOON, service="verify"), MONDAY)
    assert (answer.verdict, answer.later) == ("yes", ())
    assert MONDAY < answer.ends <= TODAY_NOON
    assert answer.earliest == answer.ends
    assert Plan.objects.count() == 0


def test_what_cannot_be_done_at_all_is_told_with_the_earliest_moment(bench):
    answer = can_be_done(Asked(MONDAY + dt.timedelta(minutes=30)), MONDAY)
    assert answer.verdict == "no"
    assert answer.earliest > answer.by


def test_a_full_bench_names_the_promises_that_would_break_and_what_it_costs(full):
    answer = can_be_done(Asked(MONDAY.replace(hour=11), service="verify"), MONDAY)
    assert answer.verdict == "costs promises"
    assert answer.breaks
    assert answer.breaks[0].who.startswith("Orrin 5 P-")
    assert all(one.ends > one.promised for one in answer.breaks)
    assert answer.earliest is None or answer.earliest > answer.by


def test_a_job_that_is_open_is_asked_for_without_counting_it_twice(full):
    job = full[-1]
    answer = can_be_done(Asked(MONDAY.replace(hour=16), job), MONDAY)
    assert job.number not in [one.number for one in answer.later]
    assert answer.ends <= MONDAY.replace(hour=16)


def test_a_box_that_comes_tomorrow_is_done_tomorrow_at_the_earliest(bench):
    answer = can_be_done(Asked(MONDAY + DAY + dt.timedelta(hours=8), here_on=(MONDAY + DAY).date()), MONDAY)
    assert answer.verdict == "yes"
    assert answer.ends > (MONDAY + DAY).replace(hour=8)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (Asked(MONDAY - DAY), "That moment is over"),
        (Asked(MONDAY + DAY, here_on=(MONDAY - DAY).date()), "on a day that is over"),
        (Asked(MONDAY + DAY, service="repair"), "Nobody in the plan can repair"),
    ],
)
def test_a_question_without_an_answer_says_why(shop, people, asked, words):
    give_hours(people, "signer")
    make_stations()
    with pytest.raises(CannotAnswerError, match=words):
        can_be_done(asked, MONDAY)


def test_without_people_every_question_says_what_is_missing(shop, people):
    for ask in (
        lambda: can_be_done(Asked(TODAY_NOON), MONDAY),
        lambda: how_many_more("verify", TODAY_NOON, MONDAY),
        lambda: who_is_away(people["technician"], MONDAY.date(), MONDAY.date(), MONDAY),
    ):
        with pytest.raises(CannotAnswerError, match="Nobody gets work from the plan"):
            ask()


def test_who_is_ill_breaks_promises_by_name(full, people):
    away = who_is_away(people["signer"], MONDAY.date(), MONDAY.date(), MONDAY)
    assert away.broken_after > away.broken_before
    assert away.later[0].breaks
    with pytest.raises(CannotAnswerError, match=r"(?i)nobody"):
        who_is_away(people["counter"], MONDAY.date(), MONDAY.date(), MONDAY)


def test_a_day_on_which_the_shop_is_closed_changes_nothing(full, people):
    sunday = MONDAY.date() - DAY
    with pytest.raises(CannotAnswerError, match="closed then"):
        who_is_away(people["technician"], sunday, sunday, MONDAY)


def test_how_many_more_grows_with_the_time_and_shrinks_with_the_work(bench, owner):
    friday = (MONDAY + 4 * DAY).replace(hour=17)
    today, week = how_many_more("verify", MONDAY.replace(hour=17), MONDAY), how_many_more("verify", friday, MONDAY)
    assert 0 < today < week
    for number in range(20):
        make_job(owner, number)
    assert how_many_more("verify", friday, MONDAY) < week
