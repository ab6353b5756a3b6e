"""The judgement as plain JSON values, format 1."""

import json
import math

import pytest

from flueproof.bench.judgement import FORMAT, Action, Judgement, Verdict


def made(**more):
    values = {"record": "r.json", "job": "J-1", "profile": {}, "decision_rule": {}, "as_found": None, "as_left": None}
    return Judgement(**values | more)


def test_format_record_and_verdicts_stand_first():
    assert list(made().to_json_dict())[:5] == ["format", "record", "job", "as_found", "as_left"]
    assert made().to_json_dict()["format"] == FORMAT == "flueproof-judgement/1"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_null(value):
    plain = made(joint={"deep": [{"value": value}]}).to_json_dict()
    assert plain["joint"]["deep"][0]["value"] is None
    json.dumps(plain, allow_nan=False)


def test_actions_keep_their_order_and_their_keys():
    actions = (Action("mend-path", "leaks", where="probe", lr=4e5), Action("check-path", "prove it"))
    plain = made(as_found=Verdict("work-needed", actions)).to_json_dict()["as_found"]
    assert [action["do"] for action in plain["actions"]] == ["mend-path", "check-path"]
    assert plain["actions"][0]["lr"] == 4e5
    assert plain["outcome"] == "work-needed"


def test_a_whole_judgement_is_plain_json(visit, judge):
    plain = judge(visit(instrument=True)).to_json_dict()
    again = json.loads(json.dumps(plain, allow_nan=False))
    assert again == plain
    assert {"step", "U", "k", "limit", "statement", "budget", "p_conform"} <= set(plain["points"][0])
    assert set(plain["gas_path"]) >= {"p_o2", "p_co", "dilution", "leak"}
