"""A judgement in words."""

import dataclasses

import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.record.reader import record_from_json
from flueproof.cli.words.summary import full_summary, one_line


@pytest.fixture
def told(record):
    """Return a function that judges a demo record and returns (record, profile, judgement)."""

    def judged(name):
        read = record_from_json(record(name))
        profile = shipped_profile(read.analyzer.profile.name)
        return read, profile, judge_record(read, profile, name=f"{name}.json")

    return judged


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("healthy", "healthy.json: ready-to-sign"),
        ("thermocouple-off", "thermocouple-off.json: work-needed; mend-sensor stack probe"),
        ("adjusted", "adjusted.json: ready-to-sign"),
    ],
)
def test_one_line_says_outcome_and_first_action(told, name, line):
    assert one_line(told(name)[2]) == line


def test_nothing_measured_is_said(told):
    judgement = dataclasses.replace(told("healthy")[2], as_found=None, as_left=None)
    assert one_line(judgement) == "healthy.json: nothing measured"


@pytest.mark.parametrize("name", ["too-close-to-call", "co-cell-dead", "no-probe-came", "infrared-healthy"])
@pytest.mark.parametrize("width", [60, 110])
def test_prose_keeps_to_the_width_and_plain_output_to_ascii(told, name, width):
    text = full_summary(*told(name), units="si", width=width, all_signs=False)
    assert text.isascii()
    prose = text[text.index("Gas path and checks") :].splitlines()
    assert max(len(line) for line in prose) <= width


def test_columns_stand_under_each_other(told):
    text = full_summary(*told("healthy"), units="us", width=100, all_signs=True)
    table = [line for line in text.splitlines() if line.endswith((" statement", "conform\x1b[0m"))]
    assert len(table) == 6
    assert len({line.index("\x1b[32m") for line in table[1:]}) == 1


def test_too_close_to_call_is_said_in_words(told):
    text = full_summary(*told("too-close-to-call"), units="us", width=100, all_signs=True)
    assert "too close to call" in text
    assert "Use a better reference" in text
    assert "decision rule guarded-U" in text


def test_what_the_display_computes_is_told_beside_the_checks(record):
    tree = record("healthy")
    rows = [("O2", "%", 0.1, 5.3), ("stack", "degC", 1, 187), ("air", "degC", 1, 23), ("efficiency", "%", 0.1, 90.5)]
    readings = [{"channel": name, "unit": unit, "step": step, "shown": [shown]} for name, unit, step, shown in rows]
    at = tree["steps"][-1]["at"]
    tree["steps"] += [
        {"id": "set", "at": at, "by": "tester", "kind": "settings", "as_found": {"fuel": "natural gas"}},
        {"id": "shown", "at": at, "by": "tester", "kind": "displayed", "phase": "as-found", "readings": readings},
    ]
    read = record_from_json(tree)
    profile = shipped_profile(read.analyzer.profile.name)
    text = full_summary(read, profile, judge_record(read, profile), units="si", width=100, all_signs=True)
    assert "Figures of the display (as-found)" in text
    assert "0 degC as air temperature" in text
