import calendar
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.papers.due import date_in_words, date_short, due_date
from flueproof.papers.errors import DueDateError


class TestCommonPracticeNoSource:
    """Dates worked out on a wall calendar."""

    @pytest.mark.parametrize(
        ("done", "months", "rule", "due"),
        [
            ("2026-11-03", 12, "day", "2027-11-03"),
            ("2027-01-31", 1, "day", "2027-02-28"),
            ("2028-01-31", 1, "day", "2028-02-29"),
            ("2028-02-29", 12, "day", "2029-02-28"),
            ("2028-02-29", 48, "day", "2032-02-29"),
            ("2026-08-31", 6, "day", "2027-02-28"),
            ("2026-12-15", 1, "day", "2027-01-15"),
            ("2026-11-03", 12, "month-end", "2027-11-30"),
            ("2027-02-28", 12, "month-end", "2028-02-29"),
            ("2027-01-31", 1, "month-end", "2027-02-28"),
            ("2026-11-03", 12, "end-of-month", "2027-11-30"),
        ],
    )
    def test_due_date(self, done, months, rule, due):
        assert due_date(date.fromisoformat(done), months, rule) == date.fromisoformat(due)


@given(st.dates(date(1990, 1, 1), date(2200, 1, 1)), st.integers(1, 120))
def test_the_month_is_always_the_wanted_one_and_the_day_never_later(done, months):
    due = due_date(done, months)
    assert (due.year - done.year) * 12 + due.month - done.month == months
    assert due.day == min(done.day, calendar.monthrange(due.year, due.month)[1])
    assert due_date(done, months, "month-end") >= due


@pytest.mark.parametrize("months", [0, -1, 121, 1.5, True])
def test_an_interval_out_of_reach_is_refused(months):
    with pytest.raises(DueDateError, match="months"):
        due_date(date(2026, 1, 1), months)


def test_an_unknown_rule_is_refused_by_name():
    with pytest.raises(DueDateError, match="fortnight"):
        due_date(date(2026, 1, 1), 12, "fortnight")


def test_a_date_beyond_the_calendar_is_refused():
    with pytest.raises(DueDateError, match="calendar"):
        due_date(date(9999, 6, 1), 12)


def test_the_month_stands_as_a_word():
    assert date_in_words(date(2026, 11, 3)) == "3 November 2026"
    assert date_short(date(2026, 11, 3)) == "03 Nov 2026"
