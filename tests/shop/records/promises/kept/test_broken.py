"""A broken promise stays broken: a new day is kept as such, and the clock counts on from where it was."""

import datetime as dt

import pytest

from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.clock import clock_of, give_promise, note_clock
from flueproof.shop.records.promises.events import life_rows
from flueproof.shop.records.promises.kept.broken import INSTEAD, first_promise, times_broken, told_again
from flueproof.shop.records.promises.plan.bench import bench_at
from flueproof.shop.records.promises.plan.content import work_of
from flueproof.shop.records.promises.planning import make_plan
from shop.planned import MONDAY, give_hours, make_job, make_stations

DAY = dt.timedelta(days=1)
CAME = MONDAY - 21 * DAY


@pytest.fixture
def late(shop, owner):
    """Return a job that was promised for the seventeenth and is not done on the thirtieth."""
    return make_job(owner, 1, at=CAME)


def state_of(job, now=MONDAY):
    job.refresh_from_db()
    return clock_of(job, now)


def test_a_new_day_after_a_broken_one_is_kept_as_such_with_who_agreed_it(late, people):
    before = state_of(late)
    assert before.is_late
    row = give_promise(late, MONDAY, people["counter"], day=(MONDAY + 2 * DAY).date(), words="Ada agreed")
    assert row.terms[INSTEAD] == before.promised_on.isoformat()
    (told,) = told_again(life_rows(late))
    assert (told.broken, told.day, told.by, told.words) == (
        before.promised_on,
        dt.date(2026, 12, 2),
        people["counter"],
        "Ada agreed",
    )
    said = late.moments.get(what="promise given").text
    assert said == "Wednesday 2 December 2026 instead of Tuesday 17 November 2026, which was broken: Ada agreed"


def test_the_clock_does_not_count_backwards(late, people):
    before = state_of(late)
    give_promise(late, MONDAY, people["counter"], day=(MONDAY + 2 * DAY).date())
    after = state_of(late)
    assert (after.started_at, after.used, after.counted_on) == (before.started_at, before.used, before.counted_on)
    assert after.promised_on == late.promised_on == dt.date(2026, 12, 2)
    assert not after.is_late


def test_the_first_promise_stays_broken_whatever_is_told_later(late, people):
    give_promise(late, MONDAY, people["counter"], day=(MONDAY + 2 * DAY).date())
    first = first_promise(late, life_rows(late), shop_calendar(), MONDAY)
    assert first.promised_on == dt.date(2026, 11, 17)
    assert first.is_late
    assert times_broken(life_rows(late), state_of(late)) == 1
    assert times_broken(life_rows(late), state_of(late, MONDAY + 3 * DAY)) == 2


def test_what_the_owner_held_up_moves_the_first_promise_too(shop, owner, people):
    job = make_job(owner, 2, at=CAME)
    note_clock(job, "stopped", CAME + DAY, at=CAME + DAY, cause="owner")
    note_clock(job, "went-on", MONDAY, at=MONDAY, cause="owner")
    first = first_promise(job, life_rows(job), shop_calendar(), MONDAY)
    assert not first.is_late
    assert times_broken(life_rows(job), state_of(job)) == 0


def test_a_later_day_agreed_before_anything_is_broken_is_no_broken_promise(shop, owner, people):
    job = make_job(owner, 3)
    row = give_promise(job, MONDAY, people["counter"], day=(MONDAY + 10 * DAY).date())
    assert INSTEAD not in row.terms
    assert told_again(life_rows(job)) == []


def test_a_further_new_day_does_not_inherit_the_mark_of_the_one_before(late, people):
    give_promise(late, MONDAY, people["counter"], day=(MONDAY + 2 * DAY).date())
    row = give_promise(late, MONDAY, people["counter"], day=(MONDAY + 3 * DAY).date())
    assert INSTEAD not in row.terms


def test_a_broken_promise_counts_more_in_the_plan_and_does_not_lie_on_the_shelf(late, owner, people):
    give_hours(people)
    make_stations()
    others = [make_job(owner, number, promised_on=MONDAY.date()) for number in range(10, 22)]
    bench = bench_at(MONDAY)
    mine = bench.situation.by_name[late.number]
    assert mine.weight == 2
    assert bench.situation.by_name[others[0].number].weight == 1
    assert bench.axis.moment(mine.promised).date() == (MONDAY + DAY).date()
    plan = make_plan(MONDAY)
    ends = max(one.end for one in work_of(plan.content) if one.job == late.number)
    assert ends.date() <= (MONDAY + DAY).date()
    assert plan.content["jobs"][late.number]["due"] < 0  # the page still says that it is late


def test_a_new_day_is_what_the_plan_then_works_to(late, people):
    give_hours(people)
    make_stations()
    give_promise(late, MONDAY, people["counter"], day=(MONDAY + 3 * DAY).date())
    bench = bench_at(MONDAY)
    mine = bench.situation.by_name[late.number]
    assert bench.axis.moment(mine.promised).date() == (MONDAY + 3 * DAY).date()
    assert mine.weight == 2
