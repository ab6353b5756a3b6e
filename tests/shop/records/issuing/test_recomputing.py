"""From what was stored with a paper the same judgement comes out again, to twelve digits."""

import json
import math

import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.bundle import bundle_from_dict
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.record.reader import record_from_json
from flueproof.shop.records.issuing.recomputing import OtherRulesError, recompute, same_numbers
from flueproof.shop.records.models import Paper


@pytest.mark.parametrize("name", ["healthy", "co-cell-replaced", "verified-outside", "infrared-healthy"])
def test_the_stored_record_and_bundle_give_the_stored_numbers(visit_of, signed, name):
    """Computed here from the stored files alone, not by the shop's own code."""
    paper = Paper.objects.get(pk=signed(visit_of(name)).pk)
    files = {row.name: bytes(row.blob.content) for row in paper.files.all()}
    stored = json.loads(files["judgement.json"])
    record = record_from_json(json.loads(files["record.json"]))
    profile = shipped_profile(stored["profile"]["name"])
    again = judge_record(record, profile, bundle=bundle_from_dict(stored["bundle"])).to_json_dict()
    assert len(again["points"]) == len(stored["points"]) > 0
    for mine, kept in zip(again["points"], stored["points"], strict=True):
        for key in ("reference", "settled", "error", "u", "U", "limit", "p_conform"):
            assert mine[key] == pytest.approx(kept[key], rel=1e-12), (mine["step"], key)
        assert mine["statement"] == kept["statement"]
    assert same_numbers(recompute(paper), paper.judgement)


def test_another_profile_than_then_is_said_and_not_hidden(visit_of, signed):
    paper = signed(visit_of("healthy"))
    paper.judgement = {**paper.judgement, "profile": {**paper.judgement["profile"], "sha256": "0" * 64}}
    with pytest.raises(OtherRulesError, match="two-cell-residential"):
        recompute(paper)


def test_other_rules_than_then_are_said(visit_of, signed):
    paper = signed(visit_of("healthy"))
    paper.judgement = {**paper.judgement, "rules_version": "0"}
    with pytest.raises(OtherRulesError, match="rules"):
        recompute(paper)


def test_a_paper_from_before_the_display_was_examined_still_agrees(visit_of, signed):
    """Format 1 gained the key `displayed`: a judgement stored without it is compared without it."""
    paper = signed(visit_of("healthy"))
    paper.judgement = {key: value for key, value in paper.judgement.items() if key != "displayed"}
    record = json.loads(paper.record)
    at = record["steps"][-1]["at"]
    reading = {"channel": "CO2", "unit": "%", "step": 0.1, "shown": [4.0]}
    oxygen = {"channel": "O2", "unit": "%", "step": 0.1, "shown": [5.0]}
    settings = {"id": "set", "at": at, "by": "tester", "kind": "settings", "as_found": {"fuel": "natural gas"}}
    shown = {"id": "shown", "at": at, "by": "tester", "kind": "displayed", "phase": "as-found"}
    record["steps"] += [settings, {**shown, "readings": [oxygen, reading]}]
    paper.record = json.dumps(record)
    again = recompute(paper)
    assert "displayed" not in again
    assert same_numbers(again["notes"], paper.judgement["notes"])


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ({"a": [1.0, "x"]}, {"a": [1.0 + 1e-14, "x"]}, True),
        ({"a": 1.0}, {"a": 1.0 + 1e-9}, False),
        ({"a": 1.0}, {"b": 1.0}, False),
        ([1.0], [1.0, 2.0], False),
        (None, 0.0, False),
        (True, 1, True),
        (1, 1.0, True),
    ],
)
def test_numbers_are_compared_to_twelve_digits(one, other, same):
    assert same_numbers(one, other) is same
    assert not same_numbers(math.nan, 1.0)
