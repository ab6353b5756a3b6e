from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from flueproof.bench.record.values.moments import Day, Moment, MonthOrDay, first_day

MOMENT, DAY, MONTH = TypeAdapter(Moment), TypeAdapter(Day), TypeAdapter(MonthOrDay)


@pytest.mark.parametrize(
    "text",
    ["2026-11-03T09:12:00-05:00", "2026-11-03T14:12Z", "2026-11-03T14:12:00.000+00:00", "2026-11-03T19:42:00+05:30"],
)
def test_one_moment_may_be_written_with_any_offset(text):
    assert MOMENT.validate_python(text) == datetime(2026, 11, 3, 14, 12, tzinfo=UTC)


@pytest.mark.parametrize(
    "text",
    ["2026-11-03", "20261103T0912Z", "2026-W45-2T09:12Z", "2026-11-03 09:12Z", "2026-11-03T09:12:00-0500", "", "1e9"],
)
def test_other_ways_of_writing_a_time_are_refused(text):
    with pytest.raises(ValidationError, match="no ISO 8601 time"):
        MOMENT.validate_python(text)


@pytest.mark.parametrize("text", ["2027-02-29T09:12Z", "2026-11-03T25:00Z", "2026-11-03T09:60Z", "2026-00-03T09:12Z"])
def test_a_time_that_never_comes_is_refused(text):
    with pytest.raises(ValidationError, match="does not exist"):
        MOMENT.validate_python(text)


def test_a_moment_of_the_program_needs_its_offset_too():
    with pytest.raises(ValidationError, match="no offset"):
        MOMENT.validate_python(datetime(2026, 11, 3))  # noqa: DTZ001


@given(st.datetimes(timezones=st.timezones()))
def test_a_moment_written_is_the_moment_read(moment):
    offset_has_seconds = moment.utcoffset().total_seconds() % 60 != 0
    if not offset_has_seconds and moment.year >= 1900:
        assert MOMENT.validate_json(MOMENT.dump_json(moment)) == moment.astimezone(UTC)


@given(st.dates())
def test_a_day_written_is_the_day_read(day):
    assert DAY.validate_python(day.isoformat()) == day
    assert MONTH.validate_python(day.isoformat()) == day.isoformat()
    assert first_day(day.isoformat()[:7]) == day.replace(day=1)


def test_a_leap_day_exists_in_leap_years_only():
    """Gregorian calendar: 2000 and 2028 are leap years, 2100 is none."""
    assert DAY.validate_python("2028-02-29") == date(2028, 2, 29)
    assert DAY.validate_python("2000-02-29") == date(2000, 2, 29)
    with pytest.raises(ValidationError, match="does not exist"):
        DAY.validate_python("2100-02-29")


def test_a_time_of_day_is_no_part_of_a_date():
    with pytest.raises(ValidationError, match="no time of day"):
        DAY.validate_python(datetime(2026, 11, 3, tzinfo=UTC))


@pytest.mark.parametrize("given_value", [20261103, None, True, ["2026-11-03"]])
def test_a_date_is_text(given_value):
    with pytest.raises(ValidationError, match="text in quotes"):
        DAY.validate_python(given_value)
