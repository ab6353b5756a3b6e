"""Readings as left that later work has made void: the unit that was measured is no longer the unit that goes back."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from flueproof.analyzer.profile import Profile
from flueproof.bench.judgement import Note
from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.gas import AmbientAirStep, SwapTestStep, TestGasStep
from flueproof.bench.record.steps.kinds import AnyStep
from flueproof.bench.record.steps.sensors import PressureStep, TemperatureStep
from flueproof.bench.record.steps.tightness import BulbTestStep, PlugTestStep, VacuumHoldStep
from flueproof.bench.verdict.touched import touched_by

Void = frozenset[tuple[str, str | None]]


def superseded_readings(record: Record, profile: Profile) -> tuple[Void, tuple[Note, ...]]:
    """Return the readings as left that a later adjustment, part or upkeep touched, as (step, channel), with notes.

    Channel None stands for a tightness test. What the work did not touch stays.
    Source: own rule; 40 CFR 75 App. B 2.1.3(b) (after work the test again).
    """
    standing = record.standing_steps()
    void: set[tuple[str, str | None]] = set()
    notes = []
    for place, step in enumerate(standing):
        if getattr(step, "phase", None) != "as-left":
            continue
        by_step = {work.id: set(_voided(step, work, profile)) for work in standing[place + 1 :]}
        gone = set().union(*by_step.values())
        if gone:
            void |= {(step.id, channel) for channel in gone}
            last = [work for work, channels in by_step.items() if channels][-1]
            notes.append(Note("work-after-as-left", _words(step, gone, last, profile), step.id))
    return frozenset(void), tuple(notes)


def _voided(step: AnyStep, work: AnyStep, profile: Profile) -> Iterable[str | None]:
    touched = touched_by(work, profile)
    if not touched:
        return
    points = [point for point in profile.points if point.id in touched]
    if isinstance(step, PlugTestStep | BulbTestStep | VacuumHoldStep):
        if any(point.kind == "plug-test" for point in points):
            yield None
        return
    path_too = any(point.kind == "plug-test" for point in points)
    channels = {point.channel for point in points} | {getattr(work, "channel", None)}
    if path_too:  # the path or the case was open: every gas reading, also of a channel without a point
        channels |= {name for name, channel in profile.channels.items() if channel.measures_gas}
    yield from (name for name in _channels_read(step) if name in channels)


def _channels_read(step: AnyStep) -> Sequence[str]:
    if isinstance(step, TestGasStep | SwapTestStep | AmbientAirStep | TemperatureStep | PressureStep):
        return [reading.channel for reading in step.readings]
    return []


def _words(step: AnyStep, gone: set[str | None], work: str, profile: Profile) -> str:
    named = [profile.channels[name].title for name in sorted(filter(None, gone)) if name in profile.channels]
    what = ", ".join(named) if named else "The gas path"
    return (
        f"{what} was measured as left at {step.id}, before the work of {work}: this no longer counts. "
        "Measure it again after the last work."
    )
