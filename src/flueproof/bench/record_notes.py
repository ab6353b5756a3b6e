"""Notes on a record as a whole: what was ordered and not done, what disagrees, what was not shown or not logged."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from flueproof.analyzer.profile import Profile
from flueproof.bench.arrival import drained_on_arrival
from flueproof.bench.judge.phases import JudgedPhase
from flueproof.bench.judgement import Note
from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.step import MeasuringStep
from flueproof.bench.record.steps.surroundings import RoomStep
from flueproof.bench.record.steps.work import AdjustStep, DrainStep, PartStep, UpkeepStep


def record_notes_of(record: Record, profile: Profile, phases: Mapping[str, JudgedPhase]) -> list[Note]:
    """Return the notes on the record as a whole; `work-not-ordered` stops the signing.

    Source: own rules; order and record kept apart: ISO/IEC 17025:2017, 7.1 (from memory).
    """
    last = phases.get("as-left") or phases.get("as-found")
    notes = [*_order(record), *_thin_points(profile, phases), *_disagreement(last), *_linearity(profile, last)]
    if not any(isinstance(step, RoomStep) for step in record.standing_steps()):
        notes.append(Note("no-room-log", "The room's air was not logged: temperature, humidity, pressure and CO."))
    return notes


def worked_on(record: Record) -> bool:
    """Tell whether anything was adjusted, replaced or cleaned (glossary: upkeep, adjustment, repair).

    Water let out on arrival, before anything was measured, is none of these.
    """
    on_arrival = drained_on_arrival(record)
    return any(
        isinstance(step, PartStep | UpkeepStep)
        or (isinstance(step, DrainStep) and step.id not in on_arrival)
        or (isinstance(step, AdjustStep) and step.accepted)
        for step in record.standing_steps()
    )


def _order(record: Record) -> Iterable[Note]:
    measured = {step.phase for step in record.standing_steps() if isinstance(step, MeasuringStep)}
    if record.order.as_found and "as-found" not in measured:
        text = "The order asks for the state as found, and nothing was measured as found. Say why on the paper."
        yield Note("as-found-not-measured", text)
    if record.order.service == "verify" and worked_on(record):
        text = (
            "The order is a verification, which adjusts nothing, but the record holds work on the analyzer. "
            "Ask the owner, or correct the order."
        )
        yield Note("work-not-ordered", text, blocks=True)


def _thin_points(profile: Profile, phases: Mapping[str, JudgedPhase]) -> Iterable[Note]:
    for phase in phases.values():
        for point in phase.points:
            if point.counts and point.limit < point.U:
                text = (
                    f"{profile.channels[point.channel].title} at {point.reference:.4g} {point.unit}: U of "
                    f"{point.U:.2g} is larger than the limit of {point.limit:.3g}. A better reference or a longer "
                    "hold says more."
                )
                yield Note("uncertainty-beyond-limit", text, point.step)


def _disagreement(last: JudgedPhase | None) -> Iterable[Note]:
    products = last.path.products if last is not None else None
    if products is None or products.freedom <= 0 or products.chi_square <= _chi_square_limit(products.freedom):
        return
    text = (
        "Repeats or gases disagree by more than their uncertainty: look for a moving leak, a gas not purged or a "
        "wrong bottle."
    )
    yield Note("readings-disagree", text)


def _linearity(profile: Profile, last: JudgedPhase | None) -> Iterable[Note]:
    for channel in profile.channels.values():
        if last is None or not channel.linear_claimed:
            continue
        mine = [point for point in last.points if point.channel == channel.name and point.probe != "shop"]
        contents = {round(point.reference, 3) for point in mine}
        if 0 < len(contents) < 3:
            text = (
                f"{channel.title}: {len(contents)} content(s) measured; linearity is claimed by the profile and needs "
                "at least three over the range."
            )
            yield Note("linearity-not-shown", text)


def _chi_square_limit(freedom: int) -> float:
    """Wilson and Hilferty's approximation of the 99.9 % point (from memory); good to a per cent for freedom >= 1."""
    spread = 2.0 / (9.0 * freedom)
    return freedom * math.pow(1.0 - spread + 3.0902 * math.sqrt(spread), 3)
