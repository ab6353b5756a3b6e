"""The steps of each service, with the minutes they take before the shop has learned its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from flueproof.promise.schedule.model import Step


@dataclass(frozen=True, slots=True)
class StepKind:
    """One kind of step. hands, waiting: usual minutes; station: kind of station, "" for none; keeps: it stays there.

    overnight: the waiting may run through the night.
    """

    name: str
    words: str
    hands: int
    waiting: int
    skill: str = "bench"
    station: str = ""
    keeps: bool = False
    overnight: bool = False


# Minutes: common practice, no source; a shop's own replace them as soon as there are any.
KINDS: Final = {
    kind.name: kind
    for kind in (
        StepKind("look", "Look over, warm up", 10, 15, station="gas", keeps=True),
        StepKind("gas", "Test gas", 20, 10, station="gas", keeps=True),
        StepKind("temperature", "Temperature", 8, 10, station="temperature", keeps=True),
        StepKind("draft", "Draft", 8, 0, station="draft", keeps=True),
        StepKind("adjust", "Adjust", 10, 5, station="gas", keeps=True),
        StepKind("as-left", "As left on gas", 15, 10, station="gas"),
        StepKind("repair", "Repair", 50, 20, skill="repair", overnight=True),
        StepKind("sign", "Read and sign", 8, 0, skill="sign"),
    )
}
_VERIFY: Final = ("look", "gas", "temperature", "draft", "sign")
_ADJUST: Final = ("look", "gas", "temperature", "draft", "adjust", "as-left", "sign")
OF_SERVICE: Final[Mapping[str, tuple[str, ...]]] = {
    "verify": _VERIFY,
    "verify-adjust": _ADJUST,
    "call-first": _ADJUST,
    "repair": ("look", "gas", "repair", "adjust", "as-left", "temperature", "draft", "sign"),
}
# What is written down at the bench -> the step of the plan that it belongs to.
_OF_RECORD: Final = {
    "test-gas": "gas",
    "swap-test": "gas",
    "flow": "gas",
    "displayed": "gas",
    "temperature": "temperature",
    "pressure": "draft",
    "adjust": "adjust",
    "upkeep": "adjust",
    "part": "repair",
}


@dataclass(frozen=True, slots=True)
class Minutes:
    """Minutes of one step: of the hands, and of waiting; learned: from how many finished jobs (0: the usual ones)."""

    hands: float
    waiting: float
    learned: int = 0


def step_of_record(kind: str, phase: str) -> str:
    """Return the step of the plan that a step of the bench record belongs to."""
    name = _OF_RECORD.get(kind, "look")
    return "as-left" if name == "gas" and phase == "as-left" else name


def usual_minutes(step: str) -> Minutes:
    """Return the minutes of a step before anything was learned."""
    return Minutes(KINDS[step].hands, KINDS[step].waiting)


def planned_steps(
    service: str, minutes: Mapping[str, Minutes], stations: Mapping[str, str], parts_at: int = 0
) -> tuple[Step, ...]:
    """Return the steps of a service as the plan takes them.

    minutes: by step; stations: kind of station -> the class it is planned as ("" where the shop has none and the step
    needs no place); parts_at: the minute at which its parts come, for the repair.
    """
    made = []
    for name in OF_SERVICE[service]:
        kind, own = KINDS[name], minutes.get(name) or usual_minutes(name)
        place = stations.get(kind.station, "") if kind.station else ""
        made.append(
            Step(
                name,
                max(1, round(own.hands)),
                max(0, round(own.waiting)),
                skill=kind.skill,
                station=place,
                keeps_station=kind.keeps and bool(place),
                overnight=kind.overnight,
                not_before=parts_at if name == "repair" else 0,
            )
        )
    return tuple(made)
