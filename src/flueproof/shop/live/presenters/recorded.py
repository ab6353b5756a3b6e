"""What was just recorded, channel by channel, and what comes next."""

from __future__ import annotations

import json
from dataclasses import dataclass

from flueproof.papers.content.display import name_of, unit_sign
from flueproof.shop.live.presenters.words import KINDS, with_expanded
from flueproof.shop.records.models import Application
from flueproof.shop.records.visits.judged import Judged, judged


@dataclass(frozen=True, slots=True)
class Stated:
    """What one channel amounts to: error and statement as text."""

    title: str
    settled: str
    error: str
    statement: str


@dataclass(frozen=True, slots=True)
class Recorded:
    """A step just recorded: its kind and id, what its channels amount to, and what speaks against it.

    gas: whether a bottle is on; position: of the event row; against: why it does not count.
    """

    kind: str
    step: str
    stated: tuple[Stated, ...]
    gas: bool
    cannot: str
    position: int
    against: tuple[str, ...]


def recorded_of(application: Application) -> Recorded:
    """Return what an application that was recorded amounts to."""
    step = json.loads(application.event.body) if application.event is not None else {}
    found = judged(application.visit)
    points = found.judgement.points if found.judgement is not None else ()
    stated = tuple(
        Stated(
            name_of(one.channel, found.profile.channels[one.channel].title),
            with_expanded(one.settled, one.U, one.unit),
            f"error {with_expanded(one.error, one.U, one.unit)}, limit {one.limit:.3g} {unit_sign(one.unit)}",
            one.statement,
        )
        for one in points
        if step.get("id") in {one.step, *one.steps}
    )
    return Recorded(
        KINDS.get(step.get("kind", ""), step.get("kind", "")),
        step.get("id", ""),
        stated,
        step.get("kind") in {"test-gas", "swap-test"},
        found.cannot,
        found.last_position,
        _against(found, step.get("id", "")),
    )


def _against(found: Judged, step: str) -> tuple[str, ...]:
    """Return why a step does not count, in sentences; nothing where it counts."""
    if found.judgement is None:
        return ()
    return tuple(note.text for note in found.judgement.notes if note.blocks and note.step == step)
