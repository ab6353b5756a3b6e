"""Checks beside the test points, the gas path, and the actions a judgement asks for, as text."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final

from flueproof.papers.content.display import name_of, plain_number, unit_sign

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
_LEAKS: Final = {
    "none": "Tight: no leak found within the uncertainty.",
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


def check_rows(judgement: Judgement) -> list[dict[str, str]]:
    """Return one row per check: what, phase, result in words, and passed or not.

    Source: common practice, no source.
    """
    rows = [_check_row(check) for check in judgement.checks]
    leak = judgement.gas_path.get("leak")
    if leak:
        said, result = _leak(str(leak), judgement.gas_path)
        rows.insert(0, {"what": "Gas path", "phase": "", "text": said, "result": result})
    return rows


def _leak(leak: str, gas_path: dict[str, Any]) -> tuple[str, str]:
    """Return what is said of the gas path and its result; a path looked at from the inlet on only is said to be so."""
    looked_at = set(gas_path.get("dilution") or {})
    if leak == "none" and looked_at and not looked_at & {"tip", "probe"}:
        said, result = "No leak found from the inlet on; the path before it was not tested.", "in part"
    else:
        said = _LEAKS.get(leak, leak)
        result = {"none": "passed", "cannot-tell": "open"}.get(leak, "failed")
    return said + _dilution(gas_path), result


def _check_row(check: CheckResult) -> dict[str, str]:
    what = _KINDS.get(check.kind, check.kind.replace("-", " ").capitalize())
    if check.channel:
        what += f", {name_of(check.channel)}"
    text = check.text
    if check.value is not None and math.isfinite(check.value) and check.limit is not None:
        unit = unit_sign(check.unit) if check.unit else ""
        value, limit = plain_number(check.value, 3), plain_number(check.limit, 3)
        if limit not in text:
            text = f"{text.rstrip('.')}: {value} {unit} (limit {limit} {unit})."
    result = {True: "passed", False: "failed", None: "noted"}[check.ok]
    phase = "as found" if check.phase == "as-found" else "as left" if check.phase == "as-left" else ""
    return {"what": what, "phase": phase, "text": text, "result": result}


def _dilution(gas_path: dict[str, Any]) -> str:
    parts = []
    for feed, entry in (gas_path.get("dilution") or {}).items():
        if isinstance(entry, dict) and isinstance(entry.get("high"), (int, float)):
            place = {"instrument": "inlet"}.get(feed, feed)
            parts.append(f"{place} {100 * entry['high']:.1f} %")
    return f" Room air in the sample at most: {', '.join(parts)}." if parts else ""


def action_lines(verdict: Verdict | None) -> list[dict[str, str]]:
    """Return the ordered actions of a verdict: what to do and why.

    Source: bench record, format 1 (own format).
    """
    return [_action(action) for action in verdict.actions] if verdict else []


def _action(action: Action) -> dict[str, str]:
    said = DEEDS.get(action.do, action.do.replace("-", " ").capitalize())
    if action.channel:
        said += f": {name_of(action.channel)}"
    if action.where:
        said += f" ({action.where})"
    if action.enter and isinstance(action.enter.get("value"), (int, float)):
        said += f", enter {plain_number(float(action.enter['value']))} {unit_sign(str(action.enter.get('unit', '')))}"
    return {"do": said, "why": action.why}
