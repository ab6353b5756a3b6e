"""`flueproof demo`: every verdict is what the truth called for, papers and records lie where it says."""

import json

import pytest

from flueproof.cli.demo import INVENTED
from flueproof.cli.judging import demo_truth
from flueproof.simulate.demo import demo_records


@pytest.fixture(scope="module")
def out(tmp_path_factory):
    return tmp_path_factory.mktemp("demo") / "shown"


def test_the_demo_agrees_with_its_truth_and_leaves_records_and_papers(run, out):
    result = run("demo", "--papers", "--out", out, "--json")
    assert result.exit_code == 0, result.stdout + result.stderr
    told = json.loads(result.stdout)
    assert told["invented"] == INVENTED
    assert [one["record"] for one in told["records"]] == [one.name for one in demo_records()]
    assert [one["differences"] for one in told["records"]] == [[]] * len(told["records"])
    for one in told["records"]:
        assert (out / "records" / f"{one['record']}.json").is_file()
        there = {file.name for file in (out / "papers" / one["record"]).iterdir()}
        assert there == set(one["papers"])
        assert "judgement.json" in there
    kinds = {one["record"]: set(one["papers"]) for one in told["records"]}
    assert "certificate.pdf" in kinds["healthy"]
    assert "certificate.pdf" not in kinds["co-cell-dead"]


def test_a_verdict_that_differs_from_its_truth_is_exit_code_1_and_named(run, out, monkeypatch):
    few = tuple(one for one in demo_records() if one.name in {"healthy", "draft-off"})
    monkeypatch.setattr("flueproof.simulate.demo.demo_records", lambda: few)
    real = demo_truth.compared

    def wrong(demo, judgement):
        judgement["as_found"]["outcome"] = "ready-to-sign"
        return real(demo, judgement)

    monkeypatch.setattr(demo_truth, "compared", wrong)
    result = run("demo", "--papers", "--out", out)
    assert result.exit_code == 1
    assert "draft-off: outcome as found: said ready-to-sign, called for work-needed" in result.stderr
    assert "1 of 2 verdicts are what the truth called for." in result.stdout
    assert INVENTED in result.stdout
    assert str((out / "papers").resolve()) in result.stdout
