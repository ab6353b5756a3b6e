"""One look at the display, put together from the `displayed` steps that follow one another."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from flueproof.bench.displayed.names import figure_called, fuel_called, in_core_unit
from flueproof.bench.record.steps.sensors import DisplayedStep
from flueproof.bench.record.steps.step import MeasuringStep
from flueproof.bench.record.steps.surroundings import SettingsStep
from flueproof.chemistry.displayed.display import READINGS, Display, Shown

if TYPE_CHECKING:
    from flueproof.bench.record.record import Record
    from flueproof.bench.record.values.readings import ComputedReading
    from flueproof.chemistry.loss.loss import Basis

FUEL_SETTINGS: Final = ("fuel", "brennstoff", "gas type")


@dataclass(slots=True)
class Look:
    """What was read off the display at one time.

    steps: their ids; phase: as-found or as-left; fuel_set: what the display says of the fuel, None where nobody noted
    it; unread: names and units that mean no figure known here.
    """

    phase: str
    fuel_set: str | None
    steps: list[str] = field(default_factory=list)
    shown: dict[str, Shown] = field(default_factory=dict)
    moved: dict[str, float] = field(default_factory=dict)
    declared: dict[str, Basis] = field(default_factory=dict)
    unread: list[str] = field(default_factory=list)

    def display(self) -> Display:
        """Return it as chemistry examines it. Raises: DoubtError. Source: own bookkeeping."""
        return Display(
            readings={name: shown for name, shown in self.shown.items() if name in READINGS},
            computed={name: shown for name, shown in self.shown.items() if name not in READINGS},
            fuel=fuel_called(self.fuel_set) if self.fuel_set else None,
            declared=self.declared,
            u={name: u for name, u in self.moved.items() if name in READINGS},
        )


def looks_of(record: Record) -> list[Look]:
    """Return every look at computed figures, in their order.

    `displayed` steps of one phase belong to one look as long as nothing else was measured or set in between and no
    figure comes twice. The fuel is the last that a settings step named, or a reading called fuel.
    Source: own rules.
    """
    found: list[Look] = []
    fuel: str | None = None
    open_look: Look | None = None
    for step in record.standing_steps():
        if isinstance(step, SettingsStep):
            fuel = _fuel_set(step) or fuel
            open_look = None
        elif isinstance(step, DisplayedStep):
            if open_look is None or open_look.phase != step.phase or _comes_twice(open_look, step):
                open_look = Look(step.phase, fuel)
                found.append(open_look)
            open_look.steps.append(step.id)
            for reading in step.readings:
                _take(open_look, reading)
        elif isinstance(step, MeasuringStep):
            open_look = None
    return found


def _fuel_set(step: SettingsStep) -> str | None:
    for settings in (step.changed, step.as_found):
        for name, value in settings.items():
            if isinstance(value, str) and any(word in name.lower() for word in FUEL_SETTINGS):
                return value
    return None


def _comes_twice(look: Look, step: DisplayedStep) -> bool:
    called = [figure_called(reading.channel) for reading in step.readings]
    return any(one is not None and one.quantity in look.shown for one in called)


def _take(look: Look, reading: ComputedReading) -> None:
    if "fuel" in reading.channel.lower() and isinstance(reading.shown[-1], str):
        look.fuel_set = reading.shown[-1]
        return
    called = figure_called(reading.channel)
    numbers = list(_numbers(reading))
    core = in_core_unit(called.quantity, numbers[-1], float(reading.step), reading.unit) if called and numbers else None
    if called is None or core is None:
        look.unread.append(f"{reading.channel} in {reading.unit}")
        return
    value, step = core
    if called.quantity in look.shown:
        look.unread.append(f"{reading.channel}, a second time")
        return
    look.shown[called.quantity] = Shown(value, step)
    spread = (max(numbers) - min(numbers)) * step / float(reading.step)
    if spread > 0.0:
        look.moved[called.quantity] = spread / math.sqrt(12.0)
    if called.basis is not None:
        look.declared[called.quantity] = called.basis


def _numbers(reading: ComputedReading) -> Iterator[float]:
    for shown in reading.shown:
        if not isinstance(shown, str):
            yield float(shown)
