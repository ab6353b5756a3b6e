"""The log of a simulated visit: clock, steps, what is truly in the bottles; what happens without measuring."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from flueproof.analyzer.units import from_core
from flueproof.simulate.errors import StepError
from flueproof.simulate.physics.bottles import draw_bottle, draw_instrument_error, draw_source_error
from flueproof.simulate.physics.sensing import Room

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    import numpy as np

    from flueproof.analyzer.profile import Profile
    from flueproof.simulate.truth import Truth


@dataclass(frozen=True, slots=True)
class Style:
    """How a bench writes things down.

    traced: one look a second, otherwise five typed looks; us_units: degF and inH2O, otherwise degC and Pa;
    gas_on_s: when the gas is put on [s]; supply_l_min [L/min].
    """

    traced: bool = False
    us_units: bool = False
    gas_on_s: float = 5.0
    supply_l_min: float = 1.8


@dataclass
class VisitLog:
    """A bench record in the making, with what is true behind it.

    truth: what is true of the analyzer now (replaced by `adjust` and `part`); profile: of its model; head: everything
    of the record but its steps; generator: the only source of chance; clock: time of the next step. What is truly in
    the bottles and how wrong the thermometers and manometers are is drawn once, when the visit starts.
    """

    truth: Truth
    profile: Profile
    head: Mapping[str, Any]
    generator: np.random.Generator
    clock: dt.datetime
    by: str
    style: Style = field(default_factory=Style)
    room_air: Room = field(default_factory=Room)
    phase: str = "as-found"
    steps: list[dict[str, Any]] = field(default_factory=list)
    bottles: dict[str, dict[str, float]] = field(default_factory=dict)
    instrument_errors: dict[str, float] = field(default_factory=dict)
    zeroed_in_co_ppm: float = 0.0
    _applications: dict[tuple[Any, ...], int] = field(default_factory=dict)
    _gauges_kpa: dict[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for name, reference in self.head["references"].items():
            if reference["kind"] == "test-gas":
                self.bottles[name] = draw_bottle(reference, self.generator)
            else:
                self.instrument_errors[name] = draw_instrument_error(reference, self.generator)

    def record(self) -> dict[str, Any]:
        """Return the bench record so far, plain JSON values (Source: bench-record.md, format 1)."""
        head = dict(self.head)
        return {"format": "flueproof-bench-record/1", **head, "steps": [dict(step) for step in self.steps]}

    def wait(self, minutes: float) -> None:
        """Let time pass [min] (Source: common practice, no source)."""
        self.clock += dt.timedelta(minutes=minutes)

    def happening(self, kind: str, lasts_min: float = 2.0, **content: Any) -> str:
        """Write down a step that measures nothing: `note`, `visual`, `upkeep`, `part`, `strike`, `drain` ...

        lasts_min: time until the next step [min]. Source: bench-record.md, "Step kinds".
        """
        step = {"id": f"s{len(self.steps) + 1}", "at": self.clock.isoformat(), "by": self.by, "kind": kind, **content}
        self.steps.append(step)
        self.wait(lasts_min)
        return str(step["id"])

    def measuring(self, kind: str, lasts_min: float = 2.0, **content: Any) -> str:
        """Write down a measuring step of the present phase. Source: bench-record.md, "Step kinds"."""
        return self.happening(kind, lasts_min, phase=self.phase, **content)

    def room(self) -> str:
        """Write down the room's air. Source: bench-record.md, "Step kinds"."""
        unit = "degF" if self.style.us_units else "degC"
        return self.happening(
            "room",
            air={"unit": unit, "value": round(from_core(self.room_air.air_c, unit, "degC"), 1)},
            humidity_pct=round(self.room_air.humidity_pct),
            pressure_hpa=round(self.room_air.pressure_hpa, 1),
            room_co_ppm=round(self.room_air.co_ppm, 1),
        )

    def zeroing(self, where: str = "bench", probe: str = "on") -> str:
        """Switch on: the unit sets O2 to 20.9 and its zeros in the room's air; then wait for its warm-up.

        Source: bench-record.md, "What the unit's own zeroing hides".
        """
        self.zeroed_in_co_ppm = self.room_air.co_ppm
        return self.happening("zeroing", float(self.profile.warm_up_s) / 60.0 + 3.0, where=where, probe=probe)

    def part(self, what: str, after: Truth, *, serial: str | None = None, opened_case: bool = False) -> str:
        """Replace a part: from now on `after` is true of the analyzer. Source: bench-record.md, step `part`."""
        self.truth = after
        content: dict[str, Any] = {"done": "replaced", "what": what, "opened_case": opened_case}
        if serial is not None:
            content["serial"] = serial
        return self.happening("part", 25.0, **content)

    def as_left(self) -> None:
        """Go over to the as-left phase. Source: bench-record.md, "phase"."""
        self.phase = "as-left"

    def bottles_with(self, gas: str) -> Sequence[str]:
        """Return the bottles whose certificate names a gas. Source: own."""
        return [name for name in self.bottles if gas in self.head["references"][name]["components"]]

    def set_gauge(self, reference: str, gauge_kpa: float) -> None:
        """Set the pressure that a bottle's gauge shows at the start [kPa] (Source: own model)."""
        self._gauges_kpa[reference] = gauge_kpa

    def _error_of(self, reference: str) -> float:
        if reference not in self.instrument_errors:
            raise StepError(f"no thermometer, manometer or flow meter {reference!r} in this visit")
        return self.instrument_errors[reference] + draw_source_error(self.head["references"][reference], self.generator)
