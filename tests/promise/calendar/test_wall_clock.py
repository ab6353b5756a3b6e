"""Moments of the wall clock where it is changed at odd hours, by odd steps or by a whole day."""

from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.promise.calendar.errors import BadCalendarError
from flueproof.promise.calendar.wall_clock import moment_of, zone_named


@pytest.mark.parametrize(
    ("zone", "day", "at", "utc"),
    [
        ("Europe/Berlin", date(2026, 3, 29), time(2, 30), datetime(2026, 3, 29, 1, tzinfo=UTC)),
        ("Australia/Lord_Howe", date(2026, 10, 4), time(2, 10), datetime(2026, 10, 3, 15, 30, tzinfo=UTC)),
        ("Pacific/Apia", date(2011, 12, 30), time(12), datetime(2011, 12, 30, 10, tzinfo=UTC)),
    ],
)
def test_a_missing_time_is_the_moment_of_the_change(zone, day, at, utc):
    assert moment_of(day, at, zone_named(zone), later=True).astimezone(UTC) == utc
    assert moment_of(day, at, zone_named(zone), later=False).astimezone(UTC) == utc


def test_a_doubled_time_is_the_first_or_the_later():
    zone = zone_named("Europe/Berlin")
    first, later = (moment_of(date(2026, 10, 25), time(2, 30), zone, later=later) for later in (False, True))
    assert later.astimezone(UTC) - first.astimezone(UTC) == timedelta(hours=1)


@given(
    st.sampled_from(["America/New_York", "Europe/Berlin", "Asia/Kolkata", "Australia/Lord_Howe", "UTC"]),
    st.dates(date(2020, 1, 1), date(2035, 12, 31)),
    st.times(),
)
def test_every_other_time_is_what_the_wall_shows(zone, day, at):
    moment = moment_of(day, at, zone_named(zone), later=True)
    seen = moment.astimezone(UTC).astimezone(zone_named(zone)).replace(tzinfo=None)
    assert seen >= datetime.combine(day, at)
    assert seen - datetime.combine(day, at) <= timedelta(hours=1)


def test_an_unknown_zone_is_refused():
    with pytest.raises(BadCalendarError, match="write it like"):
        zone_named("Mars/Olympus")
