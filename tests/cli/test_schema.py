"""`flueproof schema`: what the schemas say is what the reader takes and the judge writes."""

import json

import pytest
from jsonschema import Draft202012Validator


@pytest.fixture
def schema(run):
    return lambda which: json.loads(run("schema", which, "--json").stdout)


def test_the_schema_of_records_takes_the_demo_records(schema, demo_files):
    validator = Draft202012Validator(schema("record"))
    for file in demo_files.values():
        assert list(validator.iter_errors(json.loads(file.read_text("utf-8")))) == []


def test_the_schema_of_judgements_takes_what_the_judge_writes_and_not_less(schema, run, demo_files):
    told = schema("judgement")
    Draft202012Validator.check_schema(told)
    validator = Draft202012Validator(told)
    files = [demo_files[name] for name in ("healthy", "adjusted", "co-cell-dead", "leak-or-zero", "no-probe-came")]
    for line in run("judge", *files, "--json").stdout.splitlines():
        judgement = json.loads(line)
        assert list(validator.iter_errors(judgement)) == []
        for key in ("format", "as_found", "points", "not_tested"):
            assert not validator.is_valid({name: value for name, value in judgement.items() if name != key})
        assert not validator.is_valid({**judgement, "format": "flueproof-judgement/2"})
        judgement["points"][0]["error"] = "much"
        assert not validator.is_valid(judgement)


def test_without_a_word_it_prints_the_record_and_on_many_lines(run):
    text = run("schema").stdout
    assert json.loads(text)["title"] == "Flueproof bench record, format 1"
    assert len(text.splitlines()) > 100


def test_another_word_is_bad_input(run):
    assert run("schema", "profile").exit_code == 2
