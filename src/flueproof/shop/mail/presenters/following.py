"""Where a job stands, in words for its owner: the same promised day as the bench."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from flueproof.promise.clock.wording import promise_in_words
from flueproof.shop.records.mailing.facts import analyzer_words
from flueproof.shop.records.models import Job, OwnerQuestion, Shipment
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.clock import clock_of

_NOW: Final = {
    "requested": "We wait for your box.",
    "arrived": "It is here and waits for its turn at the bench.",
    "bench": "It is on the bench.",
    "held": "It is on hold: somebody must decide before we go on.",
    "parts": "It waits for parts.",
    "to-sign": "The bench is done; the paper waits to be signed.",
    "to-return": "It is done and ready to go back.",
    "sent-on": "It is at another shop for a part of the work.",
    "shipped": "It is on its way to you.",
    "returned": "It went back to you. The job is closed.",
    "dropped": "The job was dropped. Nothing more is done.",
}
_PATH: Final = ("Box here", "At the bench", "Signed", "On its way", "With you")
_PLACE: Final = {
    "requested": 0, "arrived": 1, "bench": 1, "held": 1, "parts": 1, "sent-on": 1,
    "to-sign": 2, "to-return": 3, "shipped": 4, "returned": 5,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the way; done, or the one that it is at."""

    words: str
    done: bool
    here: bool


@dataclass(frozen=True, slots=True)
class Following:
    """What the page of a job shows its owner; questions: those not answered yet."""

    job: Job
    analyzer: str
    now: str
    promise: str
    steps: list[Step]
    questions: list[OwnerQuestion]
    shipment: Shipment | None


def following(job: Job, now: datetime) -> Following:
    """Return where a job stands."""
    unit, place = job.analyzer, _PLACE.get(job.state, -1)
    steps = [Step(words, at < place, at == place) for at, words in enumerate(_PATH)] if place >= 0 else []
    return Following(
        job=job,
        analyzer=analyzer_words(unit.make, unit.model, unit.serial),
        now=_NOW[job.state],
        promise=promise_in_words(clock_of(job, now), shop_calendar(), "owner") if job.state != "dropped" else "",
        steps=steps,
        questions=list(job.questions.filter(state="open")),
        shipment=job.shipments.filter(way="back").first() if job.state in {"shipped", "returned"} else None,
    )
