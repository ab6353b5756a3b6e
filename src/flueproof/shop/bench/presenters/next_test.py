"""The next thing to do, as the page says it: large, with its reason, the gas it takes and what to connect."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Final

from flueproof.analyzer.profile import Profile
from flueproof.analyzer.units import from_core
from flueproof.bench.judgement import Action
from flueproof.bench.next_test.proposal import Proposal
from flueproof.papers.content.checks import DEEDS
from flueproof.papers.content.display import name_of, plain_number, unit_sign
from flueproof.papers.content.wording import on_paper
from flueproof.shop.bench.forms.kinds import FORMS
from flueproof.shop.bench.presenters.query import query_of
from flueproof.shop.records.models import Reference
from flueproof.shop.records.visits.judged import Judged
from flueproof.shop.records.visits.next_step import WORK_FORMS, NextStep

ON_GAS: Final = frozenset({"test-gas"})
FEED_WORDS: Final = {
    "tip": "the probe tip",
    "handle": "the handle",
    "hose": "the hose",
    "after-trap": "after the trap",
    "instrument": "the instrument's inlet",
}
GAS_CAUTIONS: Final = (
    ("vent", "Vent outdoors or to a hood; the local code has the last word."),
    ("alarm", "CO alarm on at the bench."),
    ("cylinder", "Cylinder chained, valve opened slowly."),
)
_STEP_DRAWINGS: Final = {
    "drain": "trap",
    "room": "alarm",
    "zeroing": "box",
    "test-gas": "cylinder",
    "plug-test": "probe",
    "bulb-test": "hose",
    "vacuum-hold": "gauge",
    "temperature": "thermometer",
    "pressure": "manometer",
    "flow": "gauge",
    "memory": "box",
    "sign": "sticker",
    "wait": "clock",
    "call-owner": "box",
}
_SENSOR_UNITS: Final = {
    "temperature": {"us": "degF", "si": "degC"},
    "pressure": {"us": "inH2O", "si": "Pa"},
}
_WORK_DRAWINGS: Final = {
    "adjust": "cell",
    "replace-cell": "cell",
    "replace-filter": "trap",
    "mend-path": "hose",
    "check-path": "probe",
    "separate": "probe",
    "upkeep": "hose",
    "mend-sensor": "thermometer",
}


@dataclass(frozen=True, slots=True)
class NextView:
    """What stands on top of the page.

    kind: of NextStep; heading, why: texts; form: kind of the form that records it, "" for none; query: what the
    form begins with; gas: whether gas is put on; takes, left: liters as text; cylinder: what to connect;
    begin: fields of a measurement that begins; cautions: (drawing, text).
    """

    kind: str
    heading: str
    why: str
    drawing: str = ""
    form: str = ""
    query: str = ""
    gas: bool = False
    takes: str = ""
    left: str = ""
    chance: str = ""
    cylinder: Reference | None = None
    begin: dict[str, Any] = field(default_factory=dict)
    cautions: tuple[tuple[str, str], ...] = ()
    not_tested: tuple[str, ...] = ()
    until: datetime | None = None


def next_view(step: NextStep, found: Judged, rack: Sequence[Reference], units: str) -> NextView:
    """Return what stands on top of the page; units: of the person, "us" or "si"."""
    proposal = step.proposal
    named = {one.code: one.code for one in rack}
    chosen = next((one for one in rack if proposal is not None and one.code == proposal.reference), None)
    gas = step.kind in ON_GAS
    left = f"{found.litres_left:.1f} L"
    if step.kind == "work" and step.action is not None:
        return NextView(
            "work",
            _deed(step.action),
            on_paper(step.why, units, named),
            _WORK_DRAWINGS.get(step.action.do, "box"),
            WORK_FORMS[step.action.do],
            query_of(_start_of_work(step.action, found.profile)),
            left=left,
        )
    form = step.kind if step.kind in FORMS else ""
    return NextView(
        step.kind,
        _heading(step, chosen, units, found.profile),
        on_paper(step.why, units, named),
        _STEP_DRAWINGS.get(step.kind, "box"),
        form,
        query_of(_start_of_form(proposal)) if form and proposal is not None else "",
        gas,
        f"{proposal.litres:.1f} L" if gas and proposal is not None else "",
        left,
        _chance(proposal) if gas else "",
        chosen,
        _begin(proposal, found) if gas and proposal is not None else {},
        GAS_CAUTIONS if gas else (),
        proposal.not_tested if proposal is not None and step.kind == "stop" else (),
        step.until,
    )


def _heading(step: NextStep, chosen: Reference | None, units: str, profile: Profile) -> str:
    proposal = step.proposal
    if proposal is not None and step.kind in _SENSOR_UNITS:
        point = next((p for p in profile.points if p.kind == step.kind and p.title in proposal.decides), None)
        if point is not None and point.low is not None and point.high is not None:
            unit = _SENSOR_UNITS[step.kind][units]
            low, high = (plain_number(from_core(end, unit, step.kind), 3) for end in (point.low, point.high))
            return f"{point.title}: a reference between {low} and {high} {unit_sign(unit)}."
    if step.kind in ON_GAS and proposal is not None:
        what = chosen.code if chosen is not None else proposal.reference
        where = FEED_WORDS.get(proposal.feed or "tip", proposal.feed or "")
        return f"Put {what} on at {where}{', inlet pinched' if proposal.pinched else ''}."
    return on_paper(step.words, units)


def _chance(proposal: Proposal | None) -> str:
    if proposal is None or proposal.chance is None:
        return ""
    return f"{100 * proposal.chance:.0f} % chance that it decides"


def _deed(action: Action) -> str:
    said = DEEDS.get(action.do, action.do.replace("-", " ").capitalize())
    if action.channel:
        said += f": {name_of(action.channel)}"
    if action.where:
        said += f" ({action.where})"
    if action.enter and isinstance(action.enter.get("value"), int | float):
        said += f", enter {plain_number(float(action.enter['value']))} {unit_sign(str(action.enter.get('unit', '')))}"
    return said + "."


def _start_of_work(action: Action, profile: Profile) -> dict[str, str]:
    """What the form of the work begins with: the value to enter, the part to exchange, the test that separates."""
    start: dict[str, str] = {}
    if action.do == "adjust" and action.channel:
        start["channel"] = action.channel
        if action.enter:
            start |= {"value": plain_number(float(action.enter["value"])), "unit": str(action.enter["unit"])}
    elif action.do == "replace-cell" and action.channel:
        start |= {"done": "replaced", "what": f"{action.channel} cell", "opened_case": "yes"}
    elif action.do == "mend-path":
        start |= {"done": "replaced" if action.where == "probe" else "repaired"}
        start["what"] = "probe hose" if action.where == "probe" else "gas path"
    elif action.do == "mend-sensor" and action.channel:
        start["what"] = (
            profile.channels[action.channel].kind.replace("-", " ") if action.channel in profile.channels else ""
        )
    elif action.do == "separate" and action.detail:
        start["feed"] = str(action.detail.get("feed", "tip"))
    return start


def _start_of_form(proposal: Proposal) -> dict[str, str]:
    start = {"feed": proposal.feed} if proposal.feed else {}
    if proposal.reference:
        start["reference"] = proposal.reference
    return start


def _begin(proposal: Proposal, found: Judged) -> dict[str, Any]:
    point = next(
        (p for p in found.profile.points if p.kind in {"test-gas", "cross"} and p.title in proposal.decides), None
    )
    return {
        "kind": "test-gas",
        "point": point.id if point is not None else "",
        "feed": proposal.feed or "tip",
        "pinched": proposal.pinched,
        "hold_s": f"{proposal.hold_s:.0f}",
    }
