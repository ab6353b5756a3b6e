"""Days, moments and stops in words that owner and bench both understand."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.clock.events import (
    REASONS,
    BoxArrived,
    Delivered,
    PaperworkComplete,
    PromiseGiven,
    Ready,
    Stopped,
    WentOn,
)
from flueproof.promise.clock.promise_clock import promise_state
from flueproof.promise.clock.stops import Stop
from flueproof.promise.clock.terms import Terms
from flueproof.promise.clock.wording import (
    day_in_words,
    days_in_words,
    events_not_counted,
    moment_in_words,
    promise_in_words,
    stop_in_words,
)

SHOP = ShopCalendar(time_zone="America/Chicago")
BEGIN = datetime(2026, 11, 24, 15, 5, tzinfo=UTC)
STARTED = [BoxArrived(BEGIN), PaperworkComplete(BEGIN)]


def words(events, hours, reader="bench", terms=None):
    now = BEGIN + timedelta(hours=hours)
    return promise_in_words(promise_state(events, terms or Terms(), SHOP, now), SHOP, reader)


def test_days_and_moments_are_said_in_full_and_by_the_shops_clock():
    assert day_in_words(date(2026, 12, 3)) == "Thursday 3 December 2026"
    assert moment_in_words(BEGIN, SHOP) == "Tuesday 24 November 2026, 09:05"
    assert [days_in_words(days) for days in (0, 1, 2)] == ["0 business days", "1 business day", "2 business days"]


@pytest.mark.parametrize("why", REASONS)
def test_every_reason_addresses_the_owner_and_tells_the_bench(why):
    stop = Stop(why, "the hose", BEGIN)
    to_owner, to_bench = (stop_in_words(stop, SHOP, reader) for reader in ("owner", "bench"))
    assert to_owner.startswith("since Tuesday 24 November 2026, 09:05, ")
    assert to_owner.endswith(": the hose")
    assert "the owner" not in to_owner
    assert " you" not in to_bench
    assert stop_in_words(replace(stop, words=""), SHOP).endswith(REASONS[why][1])


def test_owner_and_bench_hear_the_same_day():
    stopped = [*STARTED, Stopped(BEGIN + timedelta(hours=1), "payment")]
    assert words(stopped, 2, "owner") == (
        "Promised for Wednesday 2 December 2026, ready to ship, if it goes on today; stopped since Tuesday 24 November "
        "2026, 10:05, waiting for your payment."
    )
    assert words(stopped, 2) == words(stopped, 2, "owner").replace("your payment", "the owner's payment")


def test_a_question_that_stopped_it_ends_the_sentence_with_its_own_sign():
    said = words([*STARTED, Stopped(BEGIN, words="The hose is missing. What shall we do?")], 1)
    assert said.endswith("What shall we do?")


def test_two_stops_are_both_named():
    stopped = [*STARTED, Stopped(BEGIN, "parts", "CO cell"), Stopped(BEGIN, "owner")]
    assert words(stopped, 2, "owner").endswith(
        "stopped since Tuesday 24 November 2026, 09:05, waiting for parts: CO cell and since Tuesday 24 November 2026, "
        "09:05, waiting for you."
    )


def test_ready_and_on_the_road_is_not_done_yet_where_delivery_is_promised():
    terms = Terms(means="delivered", transit_days=1)
    ready = [*STARTED, Ready(BEGIN + timedelta(hours=1))]
    assert words(ready, 2, terms=terms) == "Promised for Thursday 3 December 2026, delivered: 6 business days left."
    back = [*ready, Delivered(BEGIN + timedelta(hours=3))]
    assert words(back, 4, terms=terms) == (
        "Promised for Thursday 3 December 2026, delivered: delivered Tuesday 24 November 2026, kept."
    )


def test_a_day_promised_before_the_box_is_here_says_what_it_waits_for():
    told = [PromiseGiven(BEGIN, date(2026, 12, 3))]
    assert words(told, 1) == (
        "Promised for Thursday 3 December 2026, ready to ship; the clock starts when these are here: the box, the "
        "paperwork."
    )


def test_several_events_of_the_future_are_one_sentence():
    coming = [Ready(BEGIN), Delivered(BEGIN + timedelta(hours=1))]
    assert events_not_counted(coming, [WentOn(BEGIN)], SHOP) == [
        "2 events are dated in the future, from Tuesday 24 November 2026, 09:05, and not counted yet.",
        "It went on at Tuesday 24 November 2026, 09:05, but nothing was stopped then.",
    ]
