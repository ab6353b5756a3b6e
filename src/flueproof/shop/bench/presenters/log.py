"""What happened at the bench, step by step in words, struck steps struck through."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

from flueproof.bench.record.consistency import struck_ids
from flueproof.papers.content.display import name_of, signed, unit_sign
from flueproof.shop.records.visits.judged import Judged

KIND_WORDS: Final = {
    "test-gas": "Test gas",
    "ambient-air": "Room air",
    "plug-test": "Plug test",
    "bulb-test": "Bulb test",
    "vacuum-hold": "Vacuum hold",
    "swap-test": "Probe swapped",
    "temperature": "Temperature",
    "pressure": "Pressure",
    "flow": "Flow",
    "displayed": "Computed value",
    "room": "Room",
    "zeroing": "Switched on",
    "settings": "Settings",
    "visual": "Seen",
    "drain": "Drained",
    "upkeep": "Upkeep",
    "adjust": "Adjusted",
    "part": "Part",
    "photo": "Photo",
    "note": "Note",
    "strike": "Struck out",
}


@dataclass(frozen=True, slots=True)
class LogLine:
    """One step: place in the record, id, moment, person, what, struck (with the reason) or not."""

    place: int
    id: str
    at: datetime
    by: str
    what: str
    phase: str
    text: str
    struck: bool
    struck_why: str
    strikeable: bool


def log_lines(found: Judged) -> list[LogLine]:
    """Return the steps, the latest first."""
    record = found.record
    if record is None:
        return []
    struck = struck_ids(record.steps)
    why = {step["strikes"]: step["why"] for step in found.tree["steps"] if step["kind"] == "strike"}
    lines = [
        LogLine(
            place,
            step["id"],
            datetime.fromisoformat(step["at"]),
            step["by"],
            KIND_WORDS[step["kind"]],
            step.get("phase", "").replace("-", " "),
            words_of(step),
            step["id"] in struck,
            why.get(step["id"], "") if step["id"] in struck else "",
            step["id"] not in struck,
        )
        for place, step in enumerate(found.tree["steps"], start=1)
    ]
    return lines[::-1]


def words_of(step: Mapping[str, Any]) -> str:
    """Return a step's content as one line of text; step: as in the record."""
    kind = step["kind"]
    return _WORDS.get(kind, _plain)(step)


def _readings(step: Mapping[str, Any]) -> str:
    parts = []
    for one in step.get("readings", ()):
        shown = [_number(value) for value in one["shown"]]
        last = f"{shown[0]} to {shown[-1]}" if len(shown) > 3 else ", ".join(shown)
        looks = f" ({len(shown)} looks)" if len(shown) > 3 else ""
        unit = "" if one["unit"] == "1" else f" {unit_sign(one['unit'])}"
        parts.append(f"{name_of(one['channel'])} {last}{unit}{looks}")
    return "; ".join(parts)


def _number(value: Any) -> str:
    return signed(f"{value:g}") if isinstance(value, int | float) else str(value)


def _place(step: Mapping[str, Any]) -> str:
    path = step.get("path")
    if not path:
        return ""
    probe = ", shop's probe" if path.get("probe") == "shop" else ""
    return f"at the {path['feed'].replace('-', ' ')}{probe}"


def _gas(step: Mapping[str, Any]) -> str:
    return f"{step.get('reference', 'air')} {_place(step)}: {_readings(step)}".replace("  ", " ")


def _instrument(step: Mapping[str, Any]) -> str:
    value = step["reference_value"]
    said = f"{step['reference']} says {_number(value['value'])} {unit_sign(value['unit'])}"
    shown = _readings(step)
    return f"{said}; display {shown}" if shown else said


def _tight(step: Mapping[str, Any]) -> str:
    if step["kind"] == "plug-test":
        heard = step.get("hiss_after_10_s")
        hiss = "" if heard is None else f", {'a' if heard else 'no'} hiss after 10 s"
        return f"{_place(step)}: pump {step['pump'].replace('-', ' ')}{hiss}"
    if step["kind"] == "bulb-test":
        return f"{_place(step)}: {'stays flat' if step['stays_flat'] else 'fills'}"
    return f"{_place(step)}: {_readings(step)}"


def _room(step: Mapping[str, Any]) -> str:
    parts = []
    if air := step.get("air"):
        parts.append(f"{_number(air['value'])} {unit_sign(air['unit'])}")
    for key, words in (("humidity_pct", "% humidity"), ("pressure_hpa", "hPa"), ("room_co_ppm", "ppm CO")):
        if step.get(key) is not None:
            parts.append(f"{_number(step[key])} {words}")
    return ", ".join(parts)


def _settings(step: Mapping[str, Any]) -> str:
    found = ", ".join(f"{name} {value}" for name, value in step.get("as_found", {}).items())
    changed = ", ".join(f"{name} {value}" for name, value in step.get("changed", {}).items())
    return "; ".join(f"{words} {said}" for words, said in (("as found:", found), ("changed to:", changed)) if said)


def _adjust(step: Mapping[str, Any]) -> str:
    entered = step.get("entered")
    value = f", {_number(entered['value'])} {unit_sign(entered['unit'])} entered" if entered else ""
    on = f" on {step['reference']}" if step.get("reference") else " in air"
    return f"{name_of(step['channel'])}{value}{on}; {'accepted' if step['accepted'] else 'refused by the analyzer'}"


def _part(step: Mapping[str, Any]) -> str:
    serial = f", serial {step['serial']}" if step.get("serial") else ""
    return f"{step['done']}: {step['what']}{serial}{'; case opened' if step['opened_case'] else ''}"


def _plain(step: Mapping[str, Any]) -> str:
    keys = ("done", "what", "file", "text")
    return ", ".join(
        str(step[key]).replace("-", " ") if key == "done" else str(step[key]) for key in keys if step.get(key)
    )


_WORDS: Final[dict[str, Callable[[Mapping[str, Any]], str]]] = {
    "test-gas": _gas,
    "swap-test": _gas,
    "ambient-air": _readings,
    "displayed": _readings,
    "temperature": _instrument,
    "pressure": _instrument,
    "flow": _instrument,
    "plug-test": _tight,
    "bulb-test": _tight,
    "vacuum-hold": _tight,
    "room": _room,
    "zeroing": lambda step: f"{step['where']}, probe {step.get('probe', 'not said')}",
    "settings": _settings,
    "adjust": _adjust,
    "part": _part,
    "strike": lambda step: f"step {step['strikes']}: {step['why']}",
}
