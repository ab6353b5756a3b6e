"""The promise clock of a job: started, stopped and given, kept in step, never moved by a later setting."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from flueproof.shop.records.models import ClockEvent, Closure, Job, OwnerQuestion
from flueproof.shop.records.promises.clock import clock_of, give_promise, keep_in_step, note_clock

ZONE = dt.timezone(dt.timedelta(hours=-5))
MONDAY = dt.datetime(2026, 11, 30, 10, 0, tzinfo=ZONE)


@pytest.fixture
def waiting(shop, job):
    """A job whose clock has heard nothing, with no day promised."""
    job.promised_on = None
    job.save()
    return job


def started(job, at=MONDAY):
    note_clock(job, "arrived", at)
    note_clock(job, "paperwork-complete", at)
    return job


def day(text):
    return dt.date.fromisoformat(f"2026-{text}")


def test_the_clock_starts_when_box_and_paperwork_are_complete_and_the_day_is_promised_with_it(waiting):
    note_clock(waiting, "arrived", MONDAY)
    assert clock_of(waiting, MONDAY).status == "not-started"
    assert clock_of(waiting, MONDAY).missing == ("the paperwork",)
    note_clock(waiting, "paperwork-complete", MONDAY)
    state = clock_of(waiting, MONDAY)
    assert (state.status, state.promised_on, state.given_on) == ("running", day("12-07"), day("12-07"))
    assert Job.objects.get().promised_on == waiting.promised_on == day("12-07")
    given = ClockEvent.objects.get(kind="promised")
    assert given.terms["days"]["verify-adjust"] == 5
    assert Job.objects.get().version == waiting.version


def test_what_comes_after_the_cut_off_counts_from_the_next_business_day(waiting):
    started(waiting, MONDAY.replace(hour=15, minute=1))
    assert waiting.promised_on == day("12-08")


def test_the_same_thing_told_twice_is_kept_once(waiting):
    started(waiting)
    assert note_clock(waiting, "arrived", MONDAY) is None
    assert note_clock(waiting, "stopped", MONDAY, cause="owner") is not None
    assert note_clock(waiting, "stopped", MONDAY, cause="owner", words="again") is None
    assert note_clock(waiting, "went-on", MONDAY, cause="parts") is None
    assert note_clock(waiting, "ready", MONDAY) is not None
    assert note_clock(waiting, "ready", MONDAY) is None
    kinds = [row.kind for row in ClockEvent.objects.all()]
    assert kinds == ["arrived", "paperwork-complete", "promised", "stopped", "ready"]


def test_a_stop_moves_the_promise_and_the_new_day_is_given_when_it_goes_on(waiting):
    started(waiting)
    note_clock(waiting, "stopped", MONDAY + dt.timedelta(days=1), cause="quote", words="new CO cell")
    state = clock_of(waiting, MONDAY + dt.timedelta(days=2))
    assert (state.status, state.promised_on) == ("standing", day("12-08"))
    note_clock(waiting, "went-on", MONDAY + dt.timedelta(days=3), cause="quote")
    state = clock_of(waiting, MONDAY + dt.timedelta(days=3))
    assert (state.promised_on, state.given_on, state.moved_days) == (day("12-09"), day("12-09"), 2)
    assert waiting.promised_on == day("12-09")


def test_a_reason_that_the_clock_does_not_know_stops_it_all_the_same(waiting):
    started(waiting)
    note_clock(waiting, "stopped", MONDAY, cause="the moon")
    assert [stop.why for stop in clock_of(waiting, MONDAY).standing] == ["other"]


def test_an_unknown_kind_is_a_mistake_of_the_program(waiting):
    with pytest.raises(ValueError, match="the clock knows no 'began'"):
        note_clock(waiting, "began", MONDAY)


def test_an_open_question_keeps_the_clock_standing_though_another_wait_for_the_owner_ended(waiting, people):
    started(waiting)
    asked = OwnerQuestion.objects.create(
        job=waiting, words="Where is the hose?", asked_at=MONDAY, asked_by=people["counter"]
    )
    note_clock(waiting, "stopped", MONDAY, cause="owner")
    assert note_clock(waiting, "went-on", MONDAY, cause="owner") is None
    asked.state = "answered"
    asked.save()
    assert note_clock(waiting, "went-on", MONDAY, cause="owner") is not None


def test_a_holiday_or_closure_added_later_leaves_the_promise_and_shows_the_risk(waiting):
    started(waiting)
    Closure.objects.create(first=day("12-03"), last=day("12-04"), words="stocktaking")
    state = clock_of(waiting, MONDAY)
    assert state.promised_on == day("12-07")
    assert "Wednesday 9 December 2026" in state.risks[0]
    Closure.objects.create(first=day("12-07"), last=day("12-07"), words="burst pipe")
    risks = clock_of(waiting, MONDAY).risks
    assert "is now a closed day (burst pipe)" in risks[0]
    assert keep_in_step(waiting, MONDAY).promised_on == day("12-07")


def test_clocks_that_are_set_back_in_the_middle_of_a_job_move_no_day_and_no_cut_off(waiting, shop):
    wall = ZoneInfo(shop.time_zone)
    started(waiting, dt.datetime(2026, 10, 30, 14, 59, tzinfo=wall))
    assert waiting.promised_on == day("11-06")
    first = dt.datetime(2026, 11, 1, 1, 30, tzinfo=wall)
    note_clock(waiting, "stopped", first, cause="owner")
    note_clock(waiting, "went-on", first.replace(fold=1), cause="owner")
    state = clock_of(waiting, dt.datetime(2026, 11, 2, 14, 59, tzinfo=wall))
    assert (state.promised_on, state.moved_days, waiting.promised_on) == (day("11-06"), 0, day("11-06"))
    assert [(stop.since, stop.until) for stop in state.stops] == [
        (dt.datetime(2026, 11, 1, 5, 30, tzinfo=dt.UTC), dt.datetime(2026, 11, 1, 6, 30, tzinfo=dt.UTC))
    ]


def test_other_days_set_later_leave_a_promise_that_was_given(waiting, shop):
    started(waiting)
    shop.promised_days = {**shop.promised_days, "verify-adjust": 2}
    shop.promise_means = "delivered"
    shop.save()
    state = clock_of(waiting, MONDAY)
    assert (state.promised_on, state.means) == (day("12-07"), "ready")
    note_clock(waiting, "stopped", MONDAY, cause="parts")
    note_clock(waiting, "went-on", MONDAY + dt.timedelta(days=1), cause="parts")
    assert waiting.promised_on == day("12-08")


def test_an_owner_with_days_of_their_own_is_promised_those_and_two_more_for_a_repair(waiting, owner):
    owner.promise_days = 3
    owner.save()
    started(waiting)
    assert waiting.promised_on == day("12-03")
    waiting.service = "repair"
    waiting.save()
    note_clock(waiting, "service", MONDAY, told={"service": "repair", "before": "verify-adjust"})
    assert waiting.promised_on == day("12-07")


def test_a_promise_that_means_delivered_counts_the_way_too(waiting, shop):
    shop.promise_means = "delivered"
    shop.save()
    started(waiting)
    state = clock_of(waiting, MONDAY)
    assert (state.promised_on, state.ready_by) == (day("12-09"), day("12-07"))


def test_a_day_promised_when_the_job_was_opened_is_the_promise(shop, job):
    started(job, MONDAY)
    assert clock_of(job, MONDAY).promised_on == dt.date(2026, 12, 1)
    assert ClockEvent.objects.filter(kind="promised").count() == 1


def test_a_day_given_by_hand_is_kept_with_a_moment(waiting, people):
    started(waiting)
    give_promise(waiting, MONDAY, people["counter"], day=day("12-10"), words="agreed with Ada")
    assert waiting.promised_on == day("12-10")
    moment = waiting.moments.get(what="promise given")
    assert moment.text == "Thursday 10 December 2026: agreed with Ada"
    assert give_promise(waiting, MONDAY, people["counter"], day=day("12-10")) is None
    assert waiting.moments.filter(what="promise given").count() == 1


def test_a_promise_given_before_the_box_is_here_counts_from_now(waiting, people):
    give_promise(waiting, MONDAY, people["counter"])
    assert waiting.promised_on == day("12-07")


def test_a_day_on_which_the_clocks_are_set_back_is_one_day(waiting):
    friday = dt.datetime(2026, 10, 30, 14, 0, tzinfo=dt.timezone(dt.timedelta(hours=-4)))
    started(waiting, friday)
    assert waiting.promised_on == dt.date(2026, 11, 6)
    note_clock(waiting, "stopped", friday, cause="owner")
    monday = dt.datetime(2026, 11, 2, 14, 0, tzinfo=ZONE)
    note_clock(waiting, "went-on", monday, cause="owner")
    assert waiting.promised_on == dt.date(2026, 11, 9)


def test_while_the_clock_stands_the_day_moves_on_with_the_days(waiting):
    started(waiting)
    note_clock(waiting, "stopped", MONDAY, cause="owner")
    keep_in_step(waiting, MONDAY + dt.timedelta(days=2))
    assert Job.objects.get().promised_on == day("12-09")


def test_a_job_that_was_dropped_and_taken_up_again_begins_anew(waiting):
    started(waiting)
    note_clock(waiting, "called-off", MONDAY)
    waiting.state = "dropped"
    waiting.save()
    assert clock_of(waiting, MONDAY).status == "dropped"
    waiting.state = "requested"
    waiting.save()
    assert clock_of(waiting, MONDAY).status == "not-started"


def test_a_shop_without_a_row_has_the_usual_terms(db, job):
    assert clock_of(job, MONDAY).means == "ready"
