"""Reads the fixed checklist of a sensible technician (checklist.toml) and walks it for one analyzer."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

FILE = Path(__file__).parent / "checklist.toml"
ENDS = ("mend", "explain", "send-in", "repair")
PHONE_PLACES = ("phone", "field")
GAS_CHANNELS = frozenset({"o2", "co", "no", "co2"})

Answers = Mapping[str, Any]
"""What is known: fact or bench value -> number, text, list, or (value, standard uncertainty)."""


@dataclass(frozen=True, slots=True)
class Branch:
    """If all conditions hold: what to do (one of ENDS, or "go" to a later step), and the cause concluded."""

    when: Mapping[str, Any]
    then: str
    cause: str = ""
    to: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One look: where it is done (phone, field, bench), for which families of complaints, how long it takes [min]."""

    id: str
    family: tuple[str, ...]
    where: str
    minutes: float
    looks: str
    branches: tuple[Branch, ...]


@dataclass(frozen=True, slots=True)
class Outcome:
    """Where a walk ended: decision (one of ENDS), cause ("" for none named), minutes spent, steps done in order."""

    decision: str
    cause: str
    minutes: float
    steps: tuple[str, ...]


@cache
def triage() -> dict[str, Any]:
    """Return how the family of a complaint is picked, and what that costs."""
    found: dict[str, Any] = _whole()["triage"]
    return found


@cache
def steps() -> tuple[Step, ...]:
    """Return the steps in their order."""
    return tuple(
        Step(
            entry["id"],
            tuple(entry["family"]),
            entry["where"],
            float(entry["minutes"]),
            entry["looks"],
            tuple(Branch(**branch) for branch in entry["branches"]),
        )
        for entry in _whole()["step"]
    )


def family_of(facts: Answers) -> str:
    """Return the family of a complaint: power by its facts, else gas before temperature before draft."""
    rules = triage()
    if any(holds({name: rule}, facts) for name, rule in rules["power_when"].items()):
        return "power"
    named = [rules["families"][channel] for channel in facts.get("channels", ()) if channel != "efficiency"]
    return next((family for family in ("gas", "temperature", "draft") if family in named), str(rules["otherwise"]))


def on_the_phone(facts: Answers) -> Outcome:
    """Walk the steps of phone and field; without a branch that decides, the box is sent in with no cause named."""
    return _walk(facts, PHONE_PLACES, Outcome("send-in", "", float(triage()["minutes"]), ("triage",)))


def on_the_bench(facts: Answers, bench: Answers) -> Outcome:
    """Walk the steps of the bench; minutes of the bench only. Without a branch it is repaired with no cause named.

    facts: what a person at the bench sees and tries with the shop's own hose and probe.
    """
    return _walk({**facts, **bench, **errors_of(bench)}, ("bench",), Outcome("repair", "", 0.0, ()))


POINTS = {"socket_error_k": "socket_points", "stack_error_k": "stack_points", "draft_error_pa": "draft_points"}


def errors_of(bench: Answers) -> dict[str, float]:
    """Return the largest error of each list of points [K, Pa], where it was measured."""
    return {
        name: max(abs(shown - true) for true, shown in bench[points])
        for name, points in POINTS.items()
        if bench.get(points)
    }


def _walk(facts: Answers, places: tuple[str, ...], start: Outcome) -> Outcome:
    family, minutes, done, waits_for = family_of(facts), start.minutes, start.steps, ""
    for step in steps():
        if step.where not in places or family not in step.family or waits_for not in {"", step.id}:
            continue
        waits_for, minutes, done = "", minutes + step.minutes, (*done, step.id)
        taken = next((branch for branch in step.branches if holds(branch.when, facts)), None)
        if taken is not None and taken.then == "go":
            waits_for = taken.to
        elif taken is not None:
            return Outcome(taken.then, taken.cause, minutes, done)
    return Outcome(start.decision, start.cause, minutes, done)


def holds(when: Mapping[str, Any], facts: Answers) -> bool:
    """Return whether all conditions hold; a fact that nobody can tell makes its condition fail."""
    return all(name in facts and _one_holds(rule, facts[name], facts) for name, rule in when.items())


def _one_holds(rule: Any, value: Any, facts: Answers) -> bool:
    if isinstance(rule, list):
        return value in rule
    if "has" in rule:
        return bool(set(rule["has"]) & set(value))
    number = number_of(value)
    if number is None:
        return False
    return all(_compared(kind, limit, number, rule, facts) for kind, limit in rule.items() if kind != "by")


def _compared(kind: str, limit: Any, number: float, rule: Mapping[str, Any], facts: Answers) -> bool:
    if kind.endswith("_fact"):
        other = number_of(facts.get(limit))
        if other is None:
            return False
        difference = number - other if kind == "above_fact" else other - number
        return difference >= float(rule["by"]) - 1e-9
    return number > float(limit) if kind == "above" else number < float(limit)


def number_of(value: Any) -> float | None:
    """Return a value as a number, the first of (value, u); None for text and for what is not known."""
    if isinstance(value, tuple | list) and value and isinstance(value[0], int | float):
        return float(value[0])
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None


@cache
def _whole() -> dict[str, Any]:
    return tomllib.loads(FILE.read_text(encoding="utf-8"))
