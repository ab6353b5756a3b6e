"""What is in a box, ready to print: parts with drawings, against the slip; photos; paperwork; cautions."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from django.utils.safestring import SafeString, mark_safe

from flueproof.papers.box_slip.packing_list import packing_list
from flueproof.shop.arrivals.forms import ConditionForm
from flueproof.shop.records.intake.condition import not_asked_yet, not_in_the_box
from flueproof.shop.records.models import Arrival, BoxPhoto, Job
from flueproof.shop.records.promises.paperwork import missing_paperwork

_CAUTIONS: Final = {
    "wet": "It got wet: do not switch it on and do not charge it. The bench drains trap and hose first.",
    "dropped": "It was dropped: photograph cracks and loose parts, and leave it off until the bench has looked inside.",
    "frozen": "It was frozen: let it warm up in its closed case until it is as warm as the room. Water that condenses "
    "in a cold analyzer goes into pump and cells.",
}
_DRAIN: Final = "Do not switch it on here. Water in trap or hose goes into the pump: it is drained before power is on."
_GAS: Final = (
    "It smells of gas, it hisses, or a cylinder, spray can or lighter is in the box? Take the box outside, away from "
    "flames and switches, air the room and call who is in charge. A cylinder never goes back by mail."
)
_AS_FOUND_FIRST: Final = "Nothing but as found first: how it was used since the last visit is not known."


@dataclass(frozen=True, slots=True)
class PartLine:
    """A part in the check list: drawing, whether it is ticked, whether the slip announced it."""

    name: str
    words: str
    drawing: SafeString
    ticked: bool
    announced: bool


def in_the_box(job: Job, arrival: Arrival, form: ConditionForm) -> dict[str, Any]:
    """Return what the page of a known box shows beside its form."""
    ticked = form["enclosed"].value() or []
    announced = {str(part).casefold() for part in job.enclosed_announced}
    return {
        "parts": [
            PartLine(name, _words(name), _drawing(name), name in ticked, name.casefold() in announced)
            for name in form.things
        ],
        "announced": job.enclosed_announced,
        "photos": list(arrival.photos.select_related("blob")),
        "others_in_box": list(
            Arrival.objects.filter(box=arrival.box).exclude(pk=arrival.pk).select_related("job", "analyzer")
        ),
        "cautions": cautions_of(job),
        **_state_of(job),
    }


def panel_of(job: Job) -> dict[str, Any]:
    """Return what the panel on the job's page shows."""
    boxes = list(job.arrivals.filter(state="known").order_by("id"))
    came = {str(part).casefold() for part in job.enclosed}
    return {
        "boxes": boxes,
        "photos": list(BoxPhoto.objects.filter(job=job).select_related("blob")[:24]),
        "against": [(str(part), str(part).casefold() in came) for part in job.enclosed_announced],
        "also": [part for part in job.enclosed if part not in job.enclosed_announced] if job.enclosed_announced else [],
        "cautions": cautions_of(job)[:-2],
        **_state_of(job),
    }


def cautions_of(job: Job) -> list[tuple[str, str]]:
    """Return (drawing, words) of the cautions for a box: those of what happened to it first, then those of any box."""
    own = [("drop" if name == "wet" else "box", _CAUTIONS[name]) for name in job.accidents if name in _CAUTIONS]
    if job.analyzer.as_found_needed:
        own.insert(0, ("tag", _AS_FOUND_FIRST))
    return [*own, ("drop", _DRAIN), ("alarm", _GAS)]


def _state_of(job: Job) -> dict[str, Any]:
    looked_at = bool(job.condition)
    missing = not_in_the_box(job) if looked_at else []
    to_ask = not_asked_yet(job) if looked_at else []
    questions = list(job.questions.order_by("id"))
    return {
        "looked_at": looked_at,
        "missing": missing,
        "to_ask": to_ask,
        "questions": questions,
        "stands": any(one.state == "open" and one.stops for one in questions),
        "paperwork": missing_paperwork(job) if job.is_open else [],
    }


def _words(name: str) -> str:
    return next((thing.words for thing in packing_list() if thing.name == name), name)


@cache
def _drawing(name: str) -> SafeString:
    thing = next((one for one in packing_list() if one.name == name), None)
    return mark_safe(thing.drawing()) if thing is not None else mark_safe("")  # noqa: S308 -- our own drawing, no input
