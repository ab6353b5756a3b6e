"""`flueproof next`: the next useful test of a visit."""

import json

import pytest


def test_a_finished_visit_says_stop_and_what_stays_untested(run, demo_files):
    told = json.loads(run("next", demo_files["healthy"], "--json").stdout)
    assert told["record"] == "healthy.json"
    assert told["stop"] is True
    assert told["not_tested"]
    assert run("next", demo_files["healthy"]).stdout.startswith("Stop")


def test_a_visit_that_has_begun_is_sent_to_its_gas(run, put, record):
    tree = record("healthy")
    tree["steps"] = [step for step in tree["steps"] if step["kind"] in {"room", "zeroing"}]
    file = put(tree)
    told = json.loads(run("next", file, "--json").stdout)
    assert told["stop"] is False
    assert told["kind"] == "test-gas"
    assert told["reference"] in tree["references"]
    text = run("next", file, "--budget", "60").stdout
    assert text.startswith("Next")
    assert "Gas" in text


@pytest.mark.parametrize("words", [("--budget", "-1"), ("--profile", "none.toml"), ("--bundle", "none.json")])
def test_bad_options_are_one_line_and_exit_code_2(run, demo_files, words):
    result = run("next", demo_files["healthy"], *words)
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1


def test_a_broken_record_is_refused_with_its_path(run, put, record):
    tree = record("healthy")
    del tree["job"]
    result = run("next", put(tree), "--json")
    assert result.exit_code == 2
    assert json.loads(result.stdout)["error"]["path"] == "$.job"
