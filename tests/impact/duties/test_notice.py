"""The notice to an owner: what was found, how far, what it means, which readings, and the one rule."""

import dataclasses
import datetime as dt
import json

import pytest

from flueproof.bench.judge.judge import judge_record
from flueproof.impact.correcting.over_time import ErrorHistory
from flueproof.impact.duties import notice as module
from flueproof.impact.duties.duty import duty_of
from flueproof.impact.duties.notice import NoticeFrame, notice_facts, notice_of, notice_text
from flueproof.impact.field_log.results import work_through
from flueproof.impact.field_log.row import FieldRow
from flueproof.impact.found.from_record import errors_as_found
from flueproof.impact.found.start import errors_inside_limits
from flueproof.impact.statements.limits import Limit
from flueproof.impact.statements.wording import ONE_RULE
from flueproof.simulate.truth import Truth

FRAME = NoticeFrame("555-0199", "R. Vale", dt.date(2026, 11, 25), dt.date(2025, 11, 3))
LIMITS = [Limit("ours", "co_air_free_ppm", "at-most", 400.0)]


def made(bench, truth, rows=None, frame=FRAME, limits=LIMITS):
    record, profile, _ = bench(truth)
    errors = errors_as_found(record, profile)
    log = None
    if rows is not None:
        history = ErrorHistory(errors, errors_inside_limits(profile), dt.date(2026, 11, 3), frame.last_good_on)
        log = work_through(rows, history, limits)
    return notice_of(duty_of(judge_record(record, profile), errors), record, frame, log), log


def row(line, co, **more):
    return FieldRow(line, dt.date(2026, 10, line), f"site {line}", "natural-gas-us", 5.0, co, 200.0, 20.0, **more)


def test_co_low_names_direction_size_time_and_whom_to_call(bench):
    notice, _ = made(bench, Truth(gain={"co": 0.8}))
    text = notice_text(notice)
    for part in ("serial O5-", "CO read too low", "about 20 % too low", "do-not-use tag", "3 November 2025",
                 "A true 100 ppm was shown as 80 ppm", "555-0199", "R. Vale", ONE_RULE):  # fmt: skip
        assert part in text
    assert notice.changed == ()
    json.dumps(notice.as_dict(), allow_nan=False)


def test_a_leak_says_that_air_free_co_is_right_and_efficiency_is_not(bench):
    notice, _ = made(bench, Truth(dilution_probe=0.06))
    text = notice_text(notice)
    assert "CO air-free was not" in text
    assert "excess air came out too high and efficiency too low" in text
    assert "poor burner looked better" not in text
    assert "do-not-use" not in text


def test_changed_readings_stand_with_their_site_and_range(bench):
    notice, _ = made(bench, Truth(gain={"co": 0.8}), [row(1, 290.0), row(2, 20.0), row(3, 700.0)])
    assert notice.changed_head == "Of the 3 readings you gave us, 1 must be tested again:"
    ((day, site, what, said),) = notice.changed
    assert (day, site) == ("2026-10-01", "site 1")
    assert what == "was inside the limit, is outside"
    assert said.startswith("CO air-free shown 381 ppm, corrected ")
    assert "as if the error had grown evenly" in notice.courses


def test_none_changed_is_no_all_clear(bench):
    notice, _ = made(bench, Truth(gain={"co": 0.8}), [row(2, 20.0)])
    assert "none changes its statement. They remain readings of an analyzer found wrong" in notice.changed_head
    assert ONE_RULE in notice_text(notice)


def test_a_log_that_nothing_was_compared_with_is_not_said_to_have_stayed(bench):
    notice, _ = made(bench, Truth(gain={"co": 0.8}), [row(2, 20.0)], limits=[])
    assert (notice.changed_head, notice.courses, notice.limits) == ("", "", ())
    assert ONE_RULE in notice_text(notice)


def test_a_long_list_is_cut_and_says_so(bench, monkeypatch):
    monkeypatch.setattr(module, "MOST_LINES", 2)
    notice, _ = made(bench, Truth(gain={"co": 0.8}), [row(n, 290.0 + n) for n in range(1, 6)])
    assert (len(notice.changed), notice.left_out) == (2, 3)
    assert "and 3 more in the list" in notice_text(notice)


def test_a_dead_cell_takes_every_place_as_not_tested(bench):
    notice, _ = made(bench, Truth(dead=frozenset({"co"})), [row(1, 0.0)])
    ((_, _, what, said),) = notice.changed
    assert what == "cannot be corrected"
    assert "corrected" not in said


@pytest.mark.parametrize(("units", "sign"), [("us", "°F"), ("si", "°C")])
def test_units_are_the_owners(bench, units, sign):
    limits = [Limit("stack", "stack_c", "at-most", 205.0)]
    record, profile, _ = bench(Truth(probe_emf_error=-0.06))
    errors = errors_as_found(record, profile)
    history = ErrorHistory(errors, errors_inside_limits(profile), dt.date(2026, 11, 3), None)
    frame = dataclasses.replace(FRAME, units=units)
    log = work_through([row(1, 5.0)], history, limits)
    notice = notice_of(duty_of(judge_record(record, profile), errors, units), record, frame, log)
    assert sign in notice.changed[0][3]
    assert sign in notice.findings[0]


def test_without_a_known_last_good_date_it_says_so(bench):
    notice, _ = made(bench, Truth(gain={"co": 0.8}), frame=dataclasses.replace(FRAME, last_good_on=None))
    assert "cannot be told: no earlier good check" in notice.time


def test_what_is_kept_of_a_log_are_counts_and_no_sites(bench):
    record, profile, _ = bench(Truth(gain={"co": 0.8}))
    duty = duty_of(judge_record(record, profile), errors_as_found(record, profile))
    _, log = made(bench, Truth(gain={"co": 0.8}), [row(1, 290.0)])
    facts = json.dumps(notice_facts(duty, log))
    assert "site 1" not in facts
    assert '"readings": 1' in facts
    assert "log" not in notice_facts(duty, None)
