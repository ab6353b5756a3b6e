"""The record read: keys, values as shown, standing steps, round trip."""

import json
from datetime import date, datetime, timedelta, timezone

import pytest
from pydantic import ValidationError


def ids(record):
    return [step.id for step in record.standing_steps()]


def test_values_are_kept_as_shown(good, read):
    good["steps"][2]["readings"][1]["shown"] = [0, 402, "OVER", 481.5, "----"]
    shown = read(good).steps[2].readings[1].shown
    assert shown == (0, 402, "OVER", 481.5, "----")
    assert [type(value) for value in shown] == [int, int, str, float, str]


def test_times_keep_the_offset_of_the_bench(good, read):
    at = read(good).steps[2].at
    assert at == datetime(2026, 11, 3, 9, 40, tzinfo=timezone(timedelta(hours=-5)))
    assert at.utcoffset() == timedelta(hours=-5)


def test_dates_are_dates(good, read):
    record = read(good)
    assert record.received.date == date(2026, 11, 2)
    assert record.references["cyl-co-500"].expires == date(2028, 2, 1)


def test_a_record_written_back_is_the_record_that_was_read(good, read):
    assert read(good).to_json_dict() == good


def test_a_record_written_back_reads_as_the_same_record(good, read):
    good["steps"][2]["readings"][1]["shown"][0] = "OVER"
    good["steps"][0]["at"] = "2026-11-03T14:12:00Z"
    record = read(good)
    assert read(json.loads(json.dumps(record.to_json_dict()))) == record


def test_a_record_cannot_be_changed(good, read):
    record = read(good)
    with pytest.raises(ValidationError, match="frozen"):
        record.job = "J-1"


def test_a_struck_step_stays_and_no_longer_stands(good, read):
    record = read(good)
    assert "s7" in [step.id for step in record.steps]
    assert ids(record) == ["s1", "s2", "s3", "s3b", "s4", "s5", "s6", "s8", "s9", "s10"]


def test_a_strike_that_is_struck_strikes_nothing(good, read, step):
    good["steps"].append(step("strike", strikes="s10", why="the hose was fine"))
    assert "s7" in ids(read(good))
    assert "s10" not in ids(read(good))


def test_a_record_without_strikes_stands_whole(good, read):
    del good["steps"][10]
    record = read(good)
    assert record.standing_steps() == record.steps


def test_optional_keys_have_the_defaults_of_the_format(good, read):
    good["order"] = {"service": "verify"}
    order = read(good).order
    assert order.decision_rule == "risk-2"
    assert order.limits == "profile"
    assert order.as_found
    assert not order.due.wanted
    assert (order.due.months, order.due.rule) == (12, "day")


def test_null_stands_for_a_key_that_is_left_out(good, read):
    good["steps"][2]["gas_on_s"] = None
    good["steps"][2]["feed"] = None
    good["references"]["cyl-co-500"]["components"]["co"]["stated_accuracy_pct"] = None
    assert read(good).steps[2].gas_on_s is None
