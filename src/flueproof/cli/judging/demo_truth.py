"""What the truth of a demo record called for, beside what the judge said."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from flueproof.simulate.demo import DemoRecord


@dataclass(frozen=True, slots=True)
class Compared:
    """One demo record, judged and compared with its truth.

    differences: what differs, in words; empty when the judge said what the truth called for.
    """

    name: str
    title: str
    outcome: str
    first_action: str
    differences: tuple[str, ...]


def compared(demo: DemoRecord, judgement: dict[str, Any]) -> Compared:
    """Return a demo record's judgement (its JSON object) beside what its truth called for."""
    found, left = judgement["as_found"] or {}, judgement["as_left"] or {}
    outcome = found.get("outcome", "no verdict")
    differences = [
        *_differ("outcome as found", outcome, demo.expected_outcome),
        *_differ("outcome as left", left.get("outcome"), demo.expected_as_left),
        *_differ("leak", judgement["gas_path"].get("leak"), demo.expected_leak),
        *_differ_in_actions(demo, found.get("actions", [])),
    ]
    actions = found.get("actions", [])
    first = " ".join(part for part in (_said(actions[0]) if actions else ()) if part)
    shown = f"{outcome}, then {left['outcome']}" if left else outcome
    return Compared(demo.name, demo.title, shown, first, tuple(differences))


def _differ(what: str, said: Any, called_for: Any) -> list[str]:
    return [] if said == called_for else [f"{what}: said {said}, called for {called_for}"]


def _differ_in_actions(demo: DemoRecord, actions: list[dict[str, Any]]) -> list[str]:
    """Compare do by do, in order; place and channel only where the truth fixes them."""
    expected = [(action.do, action.where, action.channel) for action in demo.expected_actions]
    said = [_said(action) for action in actions]
    same = len(said) == len(expected) and all(
        all(wanted is None or wanted == given for wanted, given in zip(one, other, strict=True))
        for one, other in zip(expected, said, strict=True)
    )
    if same:
        return []
    shown = [", ".join(" ".join(part for part in one if part) for one in each) or "none" for each in (said, expected)]
    return [f"actions: said {shown[0]}; called for {shown[1]}"]


def _said(action: dict[str, Any]) -> tuple[str, str | None, str | None]:
    return action["do"], action.get("where"), action.get("channel")
