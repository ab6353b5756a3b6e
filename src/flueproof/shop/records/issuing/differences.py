"""What an amended paper says otherwise than the old one, a sentence each."""

from __future__ import annotations

import json
from typing import Any, Final

from flueproof.bench.judgement import Judgement
from flueproof.papers.content.display import name_of, plain_number, unit_sign
from flueproof.papers.content.outcome import verdict_of
from flueproof.shop.records.issuing.on_file import in_words
from flueproof.shop.records.issuing.recomputing import same_numbers
from flueproof.shop.records.models import Paper

_TITLES: Final = {
    "shop": "shop", "owner": "owner", "order": "order", "received": "arrival", "analyzer": "analyzer",
}  # fmt: skip
_STATEMENTS: Final = {"conform": "conforms", "not-conform": "does not conform", "undecided": "is too close to call"}
_MOST: Final = 8


def what_changed(old: Paper, tree: dict[str, Any], judgement: Judgement) -> list[str]:
    """Return how the record and judgement now differ from those of the old paper; empty when nothing does."""
    before = json.loads(old.record)
    found = [*_heads(before, tree), *_steps(before["steps"], tree["steps"]), *_outcome(old, judgement)]
    found += _points(old.judgement["points"], judgement.to_json_dict()["points"])
    if len(found) > _MOST:
        found = [*found[: _MOST - 1], f"And {len(found) - _MOST + 1} more; the whole record is kept with the paper."]
    return found


def _heads(before: dict[str, Any], now: dict[str, Any]) -> list[str]:
    return [
        f"{_TITLES[part].capitalize()}, {key.replace('_', ' ')}: was {in_words(before[part].get(key))}, "
        f"is {in_words(now[part].get(key))}."
        for part in _TITLES
        for key in sorted({*before[part], *now[part]})
        if before[part].get(key) != now[part].get(key)
    ]


def _steps(before: list[dict[str, Any]], now: list[dict[str, Any]]) -> list[str]:
    known = {step["id"] for step in before}
    added = [step for step in now if step["id"] not in known]
    kinds = {step["id"]: step["kind"] for step in now}
    struck = [step for step in added if step["kind"] == "strike"]
    found = [
        f"Step {step['strikes']} ({kinds[step['strikes']].replace('-', ' ')}) was struck out: {step['why']}."
        for step in struck
    ]
    others = [step["kind"].replace("-", " ") for step in added if step["kind"] not in {"strike", "note"}]
    found += [f"Noted: {step['text']}" for step in added if step["kind"] == "note"]
    return [*found, f"Added: {', '.join(others)}."] if others else found


def _outcome(old: Paper, judgement: Judgement) -> list[str]:
    verdict = verdict_of(judgement)
    now = verdict.outcome if verdict else "incomplete"
    if now == old.outcome:
        return []
    return [f"Outcome: was {old.outcome.replace('-', ' ')}, is {now.replace('-', ' ')}."]


def _points(before: list[dict[str, Any]], now: list[dict[str, Any]]) -> list[str]:
    old = {_key(point): point for point in before}
    new = {_key(point): point for point in now}
    found = []
    for key in old.keys() & new.keys():
        if old[key]["statement"] != new[key]["statement"]:
            was, is_now = (_STATEMENTS.get(one[key]["statement"], "?") for one in (old, new))
            found.append(f"{_called(new[key])}: {is_now}, before: {was}.")
    moved = [
        key
        for key in old.keys() & new.keys()
        if old[key]["statement"] == new[key]["statement"] and not same_numbers(_values(old[key]), _values(new[key]))
    ]
    found += [f"Values changed: {_called(new[key])}." for key in moved]
    found += [f"No longer among the results: {_called(old[key])}." for key in old.keys() - new.keys()]
    found += [f"New among the results: {_called(new[key])}." for key in new.keys() - old.keys()]
    return sorted(found)


def _key(point: dict[str, Any]) -> tuple[str, str, str]:
    return point["step"], point["phase"], point["channel"]


def _values(point: dict[str, Any]) -> dict[str, Any]:
    return {name: point.get(name) for name in ("reference", "settled", "error", "U", "limit")}


def _called(point: dict[str, Any]) -> str:
    at = f"{plain_number(float(point['reference']))} {unit_sign(point['unit'])}"
    return f"{name_of(point['channel'])} at {at}, {point['phase'].replace('-', ' ')} (step {point['step']})"
