"""Checks beside the test points, the gas path, and the actions a judgement asks for, as text."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Final

from flueproof.papers.content.display import name_of, plain_number, unit_sign
from flueproof.papers.content.wording import on_paper

if TYPE_CHECKING:
    from flueproof.bench.judgement import Action, CheckResult, Judgement, Verdict

_KINDS: Final = {
    "plug-test": "Plug test",
    "bulb-test": "Bulb test",
    "vacuum-hold": "Vacuum hold",
    "swap-test": "Swap test",
    "response": "Response time",
    "drift": "Room air",
    "ambient-air": "Room air",
    "cross": "Cross-sensitivity",
    "leak": "Gas path",
    "flow": "Flow",
}
_TIMES: Final = "Response times"
_FEEDS: Final = ("tip", "probe", "handle", "hose", "after-trap", "instrument")
_SPANS: Final = {"tip": "whole path", "probe": "probe", "instrument": "past the inlet"}
LEAKS: Final = {
    "none": "Tight within the uncertainty.",
    "probe": "A leak in the probe assembly.",
    "instrument": "A leak in the instrument.",
    "unlocated": "A leak; where was not told apart.",
    "cannot-tell": "Leak and zero error could not be told apart by the tests made.",
}
DEEDS: Final = {
    "mend-path": "Mend the gas path",
    "check-path": "Prove the gas path tight",
    "upkeep": "Upkeep",
    "settings": "Correct the settings",
    "adjust": "Adjust",
    "replace-cell": "Replace the cell",
    "mend-sensor": "Mend or replace the sensor",
    "replace-filter": "Replace the filter",
    "repeat": "Repeat",
    "better-reference": "Use a better reference",
    "separate": "Make the test that tells leak from zero error",
    "ask-owner": "Ask the owner",
    "discuss": "Discuss with the owner",
}


def check_rows(judgement: Judgement, units: str = "si", named: Mapping[str, str] | None = None) -> list[dict[str, str]]:
    """Return one row per check: what, phase, result in words, and passed or not; the gas path leads its phase.

    Source: common practice, no source.
    """
    rows = _together([_check_row(check, units, named) for check in judgement.checks])
    first = "as found" if judgement.as_found is not None else "as left"
    later = judgement.gas_path.get("as_left")
    if isinstance(later, dict) and (row := _path_row(later, "as left")):
        place = next((index for index, other in enumerate(rows) if other["phase"] == "as left"), len(rows))
        rows.insert(place, row)
    if row := _path_row(judgement.gas_path, first):
        rows.insert(0, row)
    return rows


def _together(rows: list[dict[str, str]]) -> list[dict[str, str]]:
    """Put the response times that passed into one row per phase; what failed keeps a row of its own."""
    kept: list[dict[str, str]] = []
    for row in rows:
        last = kept[-1] if kept else None
        times = row["what"].startswith(_KINDS["response"]) and row["result"] == "passed"
        if times and last is not None and last["what"] == _TIMES and last["phase"] == row["phase"]:
            last["text"] += " " + row["text"]
        else:
            kept.append({**row, "what": _TIMES} if times else row)
    return kept


def _path_row(gas_path: Mapping[str, Any], phase: str) -> dict[str, str] | None:
    leak = gas_path.get("leak")
    if not leak:
        return None
    said, result = _leak(str(leak), gas_path)
    return {"what": "Gas path", "phase": phase, "text": said, "result": result}


def _leak(leak: str, gas_path: Mapping[str, Any]) -> tuple[str, str]:
    """Return what is said of the gas path and its result; a path looked at from the inlet on only is said to be so."""
    looked_at = set(gas_path.get("dilution") or {}) | {said.get("feed") for said in gas_path.get("evidence") or ()}
    if leak == "none" and looked_at and not looked_at & {"tip", "probe"}:
        said, result = "No leak found from the inlet on; the path before it was not tested.", "in part"
    else:
        said = LEAKS.get(leak, leak)
        result = {"none": "passed", "cannot-tell": "open"}.get(leak, "failed")
    return said + _dilution(gas_path), result


def check_name(check: CheckResult) -> str:
    """Return what a check is called: "Response time, CO".

    Source: common practice, no source.
    """
    what = _KINDS.get(check.kind, check.kind.replace("-", " ").capitalize())
    return what + (f", {name_of(check.channel)}" if check.channel else "")


def _check_row(check: CheckResult, units: str, named: Mapping[str, str] | None) -> dict[str, str]:
    text = check.text
    if check.value is not None and math.isfinite(check.value) and check.limit is not None:
        unit = unit_sign(check.unit) if check.unit else ""
        value, limit = plain_number(check.value, 3), plain_number(check.limit, 3)
        if limit not in text:
            text = f"{text.rstrip('.')}: {value} {unit} (limit {limit} {unit})."
    result = {True: "passed", False: "failed", None: "noted"}[check.ok]
    phase = "as found" if check.phase == "as-found" else "as left" if check.phase == "as-left" else ""
    return {"what": check_name(check), "phase": phase, "text": on_paper(text, units, named), "result": result}


def _dilution(gas_path: Mapping[str, Any]) -> str:
    given = gas_path.get("dilution") or {}
    parts = []
    for feed in sorted(given, key=lambda name: _FEEDS.index(name) if name in _FEEDS else len(_FEEDS)):
        entry = given[feed]
        if isinstance(entry, dict) and isinstance(entry.get("high"), (int, float)):
            parts.append(f"{_SPANS.get(feed, feed)} {100 * entry['high']:.1f} %")
    return f" Room air at most: {', '.join(parts)}." if parts else ""


def action_lines(
    verdict: Verdict | None, units: str = "si", named: Mapping[str, str] | None = None
) -> list[dict[str, str]]:
    """Return the ordered actions of a verdict: what to do (whole, and the deed alone), what to enter, and why.

    Source: bench record, format 1 (own format).
    """
    return [_action(action, units, named) for action in verdict.actions] if verdict else []


def _action(action: Action, units: str, named: Mapping[str, str] | None) -> dict[str, str]:
    said = DEEDS.get(action.do, action.do.replace("-", " ").capitalize())
    if action.do == "repeat" and "point" in (action.detail or {}):
        said = "Measure"  # a point that was never done is not repeated
    if action.channel:
        said += f": {name_of(action.channel)}"
    if action.where:
        said += f" ({action.where})"
    deed, enter = said, ""
    if action.enter and isinstance(action.enter.get("value"), (int, float)):
        enter = f"{plain_number(float(action.enter['value']))} {unit_sign(str(action.enter.get('unit', '')))}"
        said += f", enter {enter}"
    return {"do": said, "deed": deed, "enter": enter, "why": on_paper(action.why, units, named)}
