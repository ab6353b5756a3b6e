import json

import pytest

from flueproof.bench.record.reader import read_record
from flueproof.simulate.demo import demo_record, demo_records
from flueproof.simulate.demo_visits.cases import DEMO_CASES
from flueproof.simulate.physics.gas_path import dilution_at

RECORDS = {demo.name: demo for demo in demo_records()}
OUTCOMES = {
    "ready-to-sign", "outside-as-ordered", "limited", "work-needed", "not-worth-repair", "beyond-our-access",
    "incomplete",
}  # fmt: skip
ACTS = {
    "mend-path", "check-path", "upkeep", "settings", "adjust", "replace-cell", "mend-sensor", "replace-filter",
    "repeat", "better-reference", "separate", "ask-owner", "discuss",
}  # fmt: skip
LEAKS = {"none", "probe", "instrument", "unlocated", "cannot-tell"}


def test_the_demo_holds_the_visits_that_were_asked_for():
    wanted = {
        "healthy", "co-cell-low", "co-cell-dead", "o2-cell-at-its-end", "leak-in-probe", "leak-in-instrument",
        "leak-or-zero", "leak-and-co-cell-low", "thermocouple-off", "air-sensor-missing", "draft-off", "filter-spent",
        "too-close-to-call", "expired-cylinder", "adjusted", "no-probe-came", "verified-outside",
    }  # fmt: skip
    assert wanted <= set(RECORDS)
    assert len(RECORDS) == len(DEMO_CASES)


@pytest.mark.parametrize("name", list(RECORDS))
def test_a_demo_record_reads_and_writes_back_unchanged(name):
    record = RECORDS[name].record
    assert read_record(json.dumps(record).encode(), name).to_json_dict() == record


@pytest.mark.parametrize("name", list(RECORDS))
def test_what_is_expected_speaks_the_language_of_the_judgement(name):
    demo = RECORDS[name]
    assert demo.expected_outcome in OUTCOMES
    assert {action.do for action in demo.expected_actions} <= ACTS
    assert demo.expected_leak in LEAKS
    assert (demo.expected_as_left is None) == all(step.get("phase") != "as-left" for step in demo.record["steps"])


@pytest.mark.parametrize("name", list(RECORDS))
def test_nothing_is_adjusted_before_the_path_is_shown_tight(name):
    demo = RECORDS[name]
    acts = [action.do for action in demo.expected_actions]
    leaks = dilution_at(demo.truth, "tip") > 0.01
    if leaks and "adjust" in acts:
        assert acts.index("check-path") < acts.index("adjust")
    if leaks and demo.expected_leak in {"probe", "instrument"}:
        assert acts[:2] == ["mend-path", "check-path"]


def test_the_demo_is_the_same_on_every_run():
    again = tuple(demo_record(case, number) for number, case in enumerate(DEMO_CASES, start=1))
    assert json.dumps([demo.record for demo in again]) == json.dumps([demo.record for demo in demo_records()])


def test_another_seed_gives_other_readings_of_the_same_visit():
    first, other = demo_record(DEMO_CASES[0], 1), demo_record(DEMO_CASES[0], 1, seed=7)
    assert first.record["steps"] != other.record["steps"]
    assert [step["kind"] for step in first.record["steps"]] == [step["kind"] for step in other.record["steps"]]


def test_visits_lie_in_autumn_2026_and_not_on_a_weekend():
    import datetime as dt

    days = [dt.datetime.fromisoformat(demo.record["steps"][0]["at"]) for demo in demo_records()]
    assert all(day.year == 2026 and 9 <= day.month <= 11 and day.weekday() < 5 for day in days)


def test_typed_and_traced_visits_in_degf_and_degc_are_there():
    styles = {(case.style.traced, case.style.us_units) for case in DEMO_CASES}
    assert styles == {(False, False), (False, True), (True, False), (True, True)}


def test_every_person_and_make_in_the_records_is_marked_as_invented():
    for demo in demo_records():
        record = demo.record
        names = [
            record["shop"]["name"],
            record["owner"]["name"],
            record["analyzer"]["make"],
            record["analyzer"]["model"],
        ]
        names += [step["by"] for step in record["steps"]]
        assert all(name.endswith("(invented)") for name in names)


def test_what_is_true_of_the_bottles_comes_with_the_record():
    for demo in demo_records():
        gases = {name for name, reference in demo.record["references"].items() if reference["kind"] == "test-gas"}
        assert set(demo.bottles) == gases


def test_a_mended_unit_is_another_one_as_left():
    assert RECORDS["adjusted"].truth_left.co_gain == pytest.approx(1.0, abs=0.02)
    assert RECORDS["co-cell-replaced"].truth_left.dead == frozenset()
    assert RECORDS["probe-mended"].truth_left.dilution_probe < 0.001
    assert RECORDS["healthy"].truth_left is RECORDS["healthy"].truth
