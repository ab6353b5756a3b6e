"""Events: their order, and those that say nothing the clock knows."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from flueproof.promise.clock.errors import BadEventError
from flueproof.promise.clock.events import BoxArrived, PromiseGiven, Ready, Stopped, WentOn, in_order

NOON = datetime(2026, 11, 24, 12, tzinfo=UTC)


def test_events_come_in_time_order_and_those_after_now_apart():
    early, late, coming = BoxArrived(NOON - timedelta(hours=2)), Ready(NOON), Ready(NOON + timedelta(seconds=1))
    assert in_order([coming, late, early], NOON) == ([early, late], [coming])


def test_the_doubled_hour_is_ordered_by_the_moment_not_by_the_wall():
    first = datetime(2026, 11, 1, 1, 40, tzinfo=ZoneInfo("America/New_York"))
    second = first.replace(minute=10, fold=1)
    assert in_order([Ready(second), BoxArrived(first)], NOON)[0] == [BoxArrived(first), Ready(second)]


def test_events_of_one_moment_keep_their_order():
    told = [Stopped(NOON), WentOn(NOON), Stopped(NOON, "parts")]
    assert in_order(told, NOON)[0] == told


def test_a_moment_without_a_time_zone_is_refused():
    naive = NOON.replace(tzinfo=None)
    with pytest.raises(BadEventError, match="BoxArrived at 2026-11-24T12:00:00 has no time zone"):
        BoxArrived(naive)
    with pytest.raises(BadEventError, match="now"):
        in_order([], naive)


def test_the_shops_own_delay_is_no_reason_that_stops_the_clock():
    with pytest.raises(BadEventError, match=r"“technician ill” is no reason.*possible: owner, quote"):
        Stopped(NOON, "technician ill")
    with pytest.raises(BadEventError, match="possible"):
        WentOn(NOON, "technician ill")


def test_a_promise_without_a_day_is_refused():
    with pytest.raises(BadEventError, match="without a day"):
        PromiseGiven(NOON)
