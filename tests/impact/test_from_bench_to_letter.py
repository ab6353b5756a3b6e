"""From a bench record to the owner's list, against rows of the flue-gas sheet, section 9: nothing is typed in.

The analyzers are simulated; the record is judged; the errors come from the judgement; the readings are those that the
sheet says such an analyzer shows at true 5 % O2, CO 100 ppm, 200/20 degC on its natural gas.
"""

import datetime as dt
import re

import pytest

from flueproof.bench.judge.judge import judge_record
from flueproof.impact.correcting.over_time import ErrorHistory
from flueproof.impact.duties.duty import duty_of
from flueproof.impact.duties.notice import NoticeFrame, notice_of, notice_text
from flueproof.impact.field_log.reading import read_log
from flueproof.impact.field_log.results import work_through
from flueproof.impact.found.from_record import errors_of_judgement
from flueproof.impact.found.start import errors_inside_limits
from flueproof.impact.statements.limits import Limit
from flueproof.simulate.truth import Truth

FOUND, GOOD = dt.date(2026, 11, 3), dt.date(2025, 11, 3)
# a limit between what was shown and what was true: 105.2 and 131.4 ppm air-free in the sheet
LIMITS = [Limit("CO air-free, 120 ppm", "co_air_free_ppm", "at-most", 120.0, "chosen for this test")]
LEAK, TIRED = Truth(dilution_probe=0.0627), Truth(gain={"co": 0.8})
HEAD = "date,site,O2,CO,stack (°C),air (°C),efficiency\n"


def worked(bench, truth, *lines):
    record, profile, _ = bench(truth, seed=7)
    judgement = judge_record(record, profile)
    errors = errors_of_judgement(judgement, record, profile)
    history = ErrorHistory(errors, errors_inside_limits(profile), FOUND, GOOD)
    log = read_log((HEAD + "\n".join(lines) + "\n").encode())
    assert not log.problems
    result = work_through(log.rows, history, LIMITS, excess_air="exact")
    duty = duty_of(judgement, errors)
    return result, duty, notice_text(notice_of(duty, record, NoticeFrame("555-0199", "R. Vale", FOUND, GOOD), result))


def holds(row, quantity, truth, course="full"):
    value, expanded = row.corrected[course][quantity]
    assert abs(value - truth) <= expanded, (quantity, value, expanded, truth)


def test_an_analyzer_20_percent_low_on_co_gives_the_right_list_and_letter(bench):
    result, duty, text = worked(bench, TIRED, "2026-11-02,Elm 12,5.0,80,200,20,84.0")
    (row,) = result.rows
    assert row.shown["co_air_free_ppm"] == pytest.approx(105.2, abs=0.05)
    holds(row, "co_air_free_ppm", 131.45)
    holds(row, "co_ppm", 100.0)
    holds(row, "o2_pct", 5.0)
    holds(row, "efficiency_pct", 90.955)
    assert row.worst == "now-outside"
    assert (duty.kind, duty.same_day, duty.do_not_use) == ("co-low", True, True)
    assert re.search(
        r"CO about (19|20|21) % too low \(between 1\d and 2\d %\)\. A true 100 ppm was shown as (79|80|81)", text
    )
    for part in ("Elm 12", "was inside the limit, is outside", "never clears an appliance"):
        assert part in text


def test_one_with_6_percent_dilution_gives_the_right_list_and_letter(bench):
    result, duty, text = worked(bench, LEAK, "2026-11-02,Elm 12,6.0,93.7,200,20,84.0")
    (row,) = result.rows
    assert row.shown["co_air_free_ppm"] == pytest.approx(131.45, abs=0.1)
    holds(row, "co_air_free_ppm", 131.45)
    holds(row, "co_ppm", 100.0)
    holds(row, "o2_pct", 5.0)
    holds(row, "excess_air_pct", 28.19)
    holds(row, "loss_pct", 9.045)
    holds(row, "own_efficiency_pct", 84.50)  # half a point better than the leak made it look
    assert row.corrected["full"]["co_air_free_ppm"][0] == pytest.approx(row.shown["co_air_free_ppm"], rel=0.03)
    assert row.worst == "still-outside"  # air-free CO was outside before and stays: the leak did not hide it
    assert (duty.kind, duty.same_day) == ("as-found", False)
    for part in ("Room air leaked in", "CO air-free, computed from both, came out right", "O2 about 1.0 % O2 too high"):
        assert part in text


def test_a_leak_that_cannot_be_told_from_a_zero_gives_the_same_values(bench):
    def tip_only(visit):
        visit.test_gas("cyl-co-500", "tip")
        visit.test_gas("can-co-100", "tip")
        visit.test_gas("cyl-co-o2", "tip")
        visit.temperature("therm-1", 200.0)

    record, profile, _ = bench(LEAK, seed=7, plan=tip_only)
    judgement = judge_record(record, profile)
    assert judgement.gas_path["leak"] == "cannot-tell"
    errors = errors_of_judgement(judgement, record, profile)
    history = ErrorHistory(errors, errors_inside_limits(profile), FOUND, GOOD)
    log = read_log((HEAD + "2026-11-02,Elm 12,6.0,93.7,200,20,84.0\n").encode())
    (row,) = work_through(log.rows, history, LIMITS, excess_air="exact").rows
    for quantity, truth in (("o2_pct", 5.0), ("co_ppm", 100.0), ("co_air_free_ppm", 131.45)):
        holds(row, quantity, truth)


def test_a_zero_error_that_sets_itself_in_air_is_not_taken_as_a_constant(bench):
    """z = 1.0 % shows as 0.76 at 5 %: 5.76 on the display, and 4.76 if it were taken off as a constant."""
    result, _, _ = worked(bench, Truth(o2_zero_pct=1.0), "2026-11-02,Elm 12,5.8,100,200,20,84.0")
    value, expanded = result.rows[0].corrected["full"]["o2_pct"]
    assert abs(value - 5.04) <= expanded < 0.25


def test_a_reading_of_long_ago_stands_between_the_ends(bench):
    result, _, _ = worked(bench, TIRED, "2025-12-15,Elm 12,5.0,88,200,20,84.0", "2026-10-30,Elm 14,5.0,88,200,20,84.0")
    early, late = sorted(result.rows, key=lambda one: one.row.day)
    assert early.changes[0].by_course["full"] == late.changes[0].by_course["full"] == "now-outside"
    assert early.changes[0].by_course["growing"] in {"now-open", "same"}
    assert late.changes[0].by_course["growing"] == "now-outside"
