"""A log worked through: courses, danger first, and the list that goes out."""

import csv
import datetime as dt
import io
import json
import math

import pytest

from flueproof.impact.correcting.over_time import ErrorHistory
from flueproof.impact.errors import FieldReadingError
from flueproof.impact.field_log.results import work_through
from flueproof.impact.field_log.row import FieldRow
from flueproof.impact.field_log.writing import FORMAT, result_csv, result_json, safe
from flueproof.impact.found.from_record import errors_as_found
from flueproof.impact.found.start import errors_inside_limits
from flueproof.impact.statements.changes import CHANGES
from flueproof.impact.statements.limits import Limit
from flueproof.impact.statements.wording import ONE_RULE
from flueproof.simulate.truth import Truth

FOUND, GOOD = dt.date(2026, 11, 3), dt.date(2025, 11, 3)
LIMIT = Limit("ours", "co_air_free_ppm", "at-most", 400.0, "own choice")


def row(line, day, co, o2=5.0, fuel="natural-gas-us", site="", **more):
    return FieldRow(line, day, site or f"site {line}", fuel, o2, co, 200.0, 20.0, **more)


ROWS = [
    row(1, dt.date(2026, 10, 1), 50.0),
    row(2, dt.date(2026, 10, 1), 290.0),
    row(3, dt.date(2026, 10, 1), 260.0, fuel="propane"),
    row(4, dt.date(2026, 10, 1), 500.0),
    row(5, dt.date(2024, 10, 1), 290.0),
    row(6, None, 298.0),
    row(7, dt.date(2026, 10, 1), math.nan),
]


@pytest.fixture(name="low", scope="module")
def _low(bench):
    """CO 20 % low, last known good a year ago."""
    record, profile, _ = bench(Truth(gain={"co": 0.8}))
    return ErrorHistory(errors_as_found(record, profile), errors_inside_limits(profile), FOUND, GOOD)


@pytest.fixture(name="worked", scope="module")
def _worked(low):
    return work_through(ROWS, low, [LIMIT])


def by_line(worked):
    return {one.row.line: one for one in worked.rows}


def test_what_was_inside_and_is_outside_comes_first_the_farthest_on_top(worked):
    assert [one.row.line for one in worked.rows[:3]] == [6, 2, 3]
    assert [one.worst for one in worked.rows[:3]] == ["now-outside"] * 3
    assert worked.counts["now-outside"] == 3
    assert [one.row.line for one in worked.danger] == [6, 2, 3]


def test_every_reading_shows_all_courses(worked):
    one = by_line(worked)[2]
    full, growing, not_yet = (one.corrected[name]["co_ppm"][0] for name in ("full", "growing", "not_yet"))
    assert full == pytest.approx(290 / 0.8, rel=0.03)
    assert not_yet == 290.0
    assert not_yet < growing < full
    assert 0.9 < one.share < 1.0
    assert set(one.changes[0].by_course) == {"full", "growing", "not_yet"}


def test_what_was_outside_stays_on_the_list(worked):
    assert by_line(worked)[4].worst == "still-outside"


def test_the_rest_is_told_apart(worked):
    said = {line: one.worst for line, one in by_line(worked).items()}
    assert (said[1], said[5], said[7]) == ("same", "not-concerned", "not-written")


def test_a_cell_that_reads_high_never_clears(bench):
    record, profile, _ = bench(Truth(gain={"co": 1.5}))
    history = ErrorHistory(errors_as_found(record, profile), errors_as_found(*bench(seed=2)[:2]), FOUND, None)
    done = work_through([row(1, dt.date(2026, 10, 1), 320.0)], history, [LIMIT])
    (change,) = done.rows[0].changes
    assert change.by_course["full"] == "lower-not-cleared"
    assert done.rows[0].worst == "still-outside"
    assert "clear the appliance" in result_csv(work_through([row(1, dt.date(2026, 10, 1), 320.0)], ErrorHistory(
        history.found, history.found, FOUND, None), [LIMIT]))  # fmt: skip


def test_each_fuel_has_its_own_convention(worked):
    assert set(worked.conventions) == {"natural-gas-us", "propane"}
    assert "propane" in worked.conventions["propane"]


def test_without_a_last_good_date_there_are_two_courses(low):
    done = work_through(ROWS, ErrorHistory(low.found, low.start, FOUND), [LIMIT])
    assert done.courses == ("full", "not_yet")
    assert "growing" not in done.rows[0].corrected


def test_an_unknown_fuel_is_refused(low):
    with pytest.raises(FieldReadingError, match="'coke' is not known"):
        work_through([row(1, None, 5.0, fuel="coke")], low, [LIMIT])


def test_without_limits_nothing_is_called_dangerous_and_nothing_inside(low):
    done = work_through(ROWS, low, [])
    assert not done.danger
    assert {one.worst for one in done.rows} == {"not-compared", "not-concerned"}


def test_an_empty_log_is_no_trouble(low):
    assert work_through([], low, [LIMIT]).rows == ()


class TestWriting:
    def test_the_list_is_a_table_with_the_rule_on_every_line(self, worked):
        lines = list(csv.reader(io.StringIO(result_csv(worked, "degF"))))
        assert len({len(line) for line in lines}) == 1
        assert len(lines) == 1 + len(ROWS)
        assert all(line[-1] == ONE_RULE for line in lines[1:])
        assert "was inside the limit, is outside" in lines[1]
        assert "392.0" in lines[1]

    def test_text_that_is_a_formula_to_a_spreadsheet_is_made_harmless(self, low):
        sites = ["=HYPERLINK(1)", "+1", "-1", "@x", "\t=1", " =1"]
        done = work_through([row(n, None, 5.0, site=site) for n, site in enumerate(sites, 1)], low, [LIMIT])
        for line in list(csv.reader(io.StringIO(result_csv(done))))[1:]:
            assert line[2].startswith("'")
        assert safe("12 Elm") == "12 Elm"

    def test_json_holds_all_courses_and_no_number_that_is_none(self, worked):
        told = json.loads(json.dumps(result_json(worked), allow_nan=False))
        assert told["format"] == FORMAT
        assert told["rule"] == ONE_RULE
        assert set(told["courses"]) == {"full", "not_yet", "growing"}
        assert told["rows"][0]["statements"][0]["worst"] == "now-outside"
        assert told["limits"][0]["source"] == "own choice"
        assert set(told["counts"]) == set(CHANGES)
        last = next(one for one in told["rows"] if one["line"] == 7)
        assert last["corrected"]["full"]["co_ppm"]["value"] is None
