"""Computing the judgement of a stored record again, with the bundle that was frozen into the stored judgement."""

from __future__ import annotations

import json
import math
from typing import Any, Final

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.bundle import bundle_from_dict
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.judgement import RULES_VERSION
from flueproof.bench.record.reader import record_from_json
from flueproof.shop.records.models import Paper

DIGITS: Final = 12


class OtherRulesError(ValueError):
    """This version of the program has another profile or other rules than the paper was made by."""


def recompute(paper: Paper) -> dict[str, Any]:
    """Return the judgement that the stored record gives now, as plain JSON values.

    Raises: OtherRulesError, BenchError.
    """
    stored = paper.judgement
    profile = shipped_profile(stored["profile"]["name"])
    if profile.sha256 != stored["profile"]["sha256"]:
        raise OtherRulesError(f"the profile {profile.name} is version {profile.version} now, another one than then")
    if stored["rules_version"] != RULES_VERSION:
        raise OtherRulesError(f"the judging rules are version {RULES_VERSION} now, then {stored['rules_version']}")
    record = record_from_json(json.loads(paper.record))
    made = judge_record(record, profile, name=stored["record"], bundle=bundle_from_dict(stored["bundle"]))
    return _as_then(made.to_json_dict(), stored)


def _as_then(made: dict[str, Any], stored: dict[str, Any]) -> dict[str, Any]:
    """Leave out what format 1 has gained since the paper was made: figures of the display, and their note."""
    if "displayed" in stored:
        return made
    told = {key: value for key, value in made.items() if key != "displayed"}
    told["notes"] = [note for note in made["notes"] if note["code"] != "display-does-not-fit"]
    return told


def same_numbers(one: Any, other: Any) -> bool:
    """Return whether two JSON trees are the same, numbers to twelve digits."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same_numbers(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(same_numbers(*pair) for pair in zip(one, other, strict=True))
    if _is_number(one) and _is_number(other):
        return math.isclose(one, other, rel_tol=10.0**-DIGITS, abs_tol=1e-300)
    return bool(one == other)


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)
