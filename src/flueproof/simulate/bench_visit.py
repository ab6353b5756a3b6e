"""A simulated visit, step by step: what a person at the bench does, and what the analyzer answers."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from flueproof.analyzer.units import difference_from_core, from_core
from flueproof.simulate.application import Gas, GasChannel, application_readings, end_value
from flueproof.simulate.bottles import AIR_O2_PCT, draw_bottle, draw_instrument_error, draw_source_error
from flueproof.simulate.display import display_of, on_step
from flueproof.simulate.errors import StepError
from flueproof.simulate.gas_path import STALL_BELOW, dilution_at, plugged_pump, vacuum_after, vent_dilution
from flueproof.simulate.sensing import AIR_CO2_PCT, Room, air_shown, draft_shown, stack_shown

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from flueproof.simulate.truth import Truth

TYPED_TIMES_S = (0.0, 30.0, 60.0, 90.0, 120.0)
START_VACUUM_KPA = 8.0
UNKNOWN_VOLUME_ML = 60.0
"""Volume of a path whose profile does not say it [mL] (from memory)."""


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
class BenchVisit:
    """Builds one bench record; every method does one thing at the bench and returns the id of its step.

    truth: what is true of the analyzer now (replaced by `adjust` and `part`); profile: the analyzer's
    `flueproof.analyzer.profile.Profile`; head: everything of the record but its steps; generator: the only source
    of chance; clock: time of the next step. bottles and instrument_errors are drawn once, when the visit starts.
    """

    truth: Truth
    profile: Any
    head: Mapping[str, Any]
    generator: np.random.Generator
    clock: datetime.datetime
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
        self._channels = {
            channel.name: GasChannel(
                channel.name,
                display_of(channel),
                bool(channel.zeroed_in_air),
                channel.repeatability.s_at,
            )
            for channel in self.profile.channels.values()
            if channel.kind in {"cell", "infrared"}
        }

    def record(self) -> dict[str, Any]:
        """Return the bench record so far, plain JSON values (Source: bench-record.md, format 1)."""
        head = dict(self.head)
        return {"format": "flueproof-bench-record/1", **head, "steps": [dict(step) for step in self.steps]}

    def wait(self, minutes: float) -> None:
        """Let time pass [min] (Source: common practice, no source)."""
        self.clock += datetime.timedelta(minutes=minutes)

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
        return self.happening(
            "zeroing", float(self.profile.warm_up_s) / 60.0 + 3.0, where=where, probe=probe
        )

    def room_gas(self) -> Gas:
        """Return the room's air as the gas at the inlet. Source: own model."""
        return Gas({"o2": AIR_O2_PCT, "co": self.room_air.co_ppm, "co2": AIR_CO2_PCT})

    def ambient_air(self) -> str:
        """Read every gas channel in room air: a drift check, no test. Source: bench-record.md."""
        gas = self.room_gas()
        readings = application_readings(
            self.truth, tuple(self._channels.values()), gas, gas, self.room_air, self.zeroed_in_co_ppm,
            (0.0, 30.0), self.generator, gas_on_s=0.0, only_settled=True,
        )
        return self.measuring("ambient-air", readings=readings)

    def test_gas(
        self,
        reference: str,
        feed: str = "tip",
        *,
        probe: str = "owner",
        pinched: bool = False,
        vent_open: bool = True,
        supply_l_min: float | None = None,
        only_settled: bool = False,
    ) -> str:
        """Put one bottle on at one feed, from air to the end of the hold, and read every gas channel.

        reference: key of the test gas; feed: one of FEEDS; supply_l_min: [L/min], the style's when None.
        Raises: StepError for an unknown bottle.
        Source: bench-record.md, "Where the gas goes in"; purge and recovery times from the profile.
        """
        if reference not in self.bottles:
            raise StepError(f"no test gas {reference!r} in this visit; there are {', '.join(self.bottles)}")
        supply = self.style.supply_l_min if supply_l_min is None else supply_l_min
        times = self._times()
        gas = self._gas_at(reference, feed, probe, supply, pinched=pinched, vent_open=vent_open)
        readings = application_readings(
            self.truth, tuple(self._channels.values()), self.room_gas(), gas, self.room_air, self.zeroed_in_co_ppm,
            times[-2:] if only_settled else times, self.generator,
            gas_on_s=self.style.gas_on_s - (600.0 if only_settled else 0.0), only_settled=only_settled,
        )
        where: dict[str, Any] = {"feed": feed} if feed == "instrument" else {"feed": feed, "probe": probe}
        flow: dict[str, Any] = {"supply_l_min": supply, "vent_open": vent_open}
        if feed == "instrument":
            flow["pinched"] = pinched
        flow["gauge_kpa_before"] = self._draw_from(reference, supply * times[-1] / 60.0)
        return self.measuring(
            "test-gas", self._pause_min(reference, times[-1]), reference=reference, path=where,
            application=self._count(reference, feed, probe, pinched), feed=flow, gas_on_s=self.style.gas_on_s,
            readings=readings,
        )

    def _times(self) -> tuple[float, ...]:
        hold = max(120.0, float(self.profile.hold_s))
        if self.style.traced:
            return tuple(np.arange(0.0, hold + self.style.gas_on_s + 1.0).tolist())
        return TYPED_TIMES_S if hold <= TYPED_TIMES_S[-1] else tuple(np.arange(0.0, hold + 1.0, 30.0).tolist())

    def _gas_at(
        self, reference: str, feed: str, probe: str, supply: float, *, pinched: bool, vent_open: bool
    ) -> Gas:
        kept = 1.0 - dilution_at(self.truth, feed, pinched=pinched, probe=probe)
        kept *= 1.0 - vent_dilution(supply, self.truth.pump_flow_l_min, vent_open=vent_open)
        owner_path = feed != "instrument" and probe == "owner"
        return Gas(self.bottles[reference], 1.0 - kept, self.truth.path_filter_tau_s if owner_path else 0.0)

    def _count(self, *what: Any) -> int:
        key = (self.phase, *what)
        self._applications[key] = self._applications.get(key, 0) + 1
        return self._applications[key]

    def _draw_from(self, reference: str, litres: float) -> int:
        gauge = self._gauges_kpa.get(reference, 3450.0)
        self._gauges_kpa[reference] = gauge - litres * 60.0
        return round(gauge)

    def set_gauge(self, reference: str, gauge_kpa: float) -> None:
        """Set the pressure that a bottle's gauge shows at the start [kPa] (Source: own model)."""
        self._gauges_kpa[reference] = gauge_kpa

    def _pause_min(self, reference: str, hold_s: float) -> float:
        minutes = (hold_s + float(self.profile.purge_s)) / 60.0 + 1.0
        recovery = self.profile.recovery_after_high_co
        if recovery is not None and self.bottles[reference].get("co", 0.0) >= float(recovery.ppm):
            minutes += float(recovery.minutes)
        return minutes

    def plug_test(self, feed: str = "tip", probe: str = "owner") -> str:
        """Close the inlet at a feed and listen to the pump. Source: as `gas_path.plugged_pump`."""
        pump, hiss = plugged_pump(self.truth, feed, probe=probe)
        return self.measuring(
            "plug-test", path={"feed": feed} | ({} if feed == "instrument" else {"probe": probe}),
            pump=pump, hiss_after_10_s=hiss,
        )

    def bulb_test(self) -> str:
        """Squeeze a bulb on the owner's probe assembly with its tip closed. Source: common practice, no source."""
        return self.measuring("bulb-test", path={"feed": "tip", "probe": "owner"}, stays_flat=self.truth.dilution_probe < STALL_BELOW)

    def vacuum_hold(self, feed: str = "instrument") -> str:
        """Draw a vacuum at a feed, close and watch it. Source: as `gas_path.vacuum_after`."""
        share = dilution_at(self.truth, feed)
        volume = float(self.profile.dead_volume_ml or UNKNOWN_VOLUME_ML)
        times = (0, 10, 20, 30)
        shown = [
            on_step(vacuum_after(START_VACUUM_KPA, time, max(share, 2e-5), self.truth.pump_flow_l_min, volume), 0.01)
            for time in times
        ]
        reading = {"channel": "vacuum", "unit": "kPa", "step": 0.01, "t_s": list(times), "shown": shown}
        return self.measuring(
            "vacuum-hold", path={"feed": feed}, exhaust_capped=True, volume_ml=self.profile.dead_volume_ml,
            readings=[reading],
        )

    def temperature(self, reference: str, true_c: float, channel: str = "stack", of: str = "probe") -> str:
        """Hold a temperature channel against a thermometer at about true_c [degC].

        of: `probe`, `socket` or `air-sensor`. Source: as `sensing.stack_shown`, `sensing.air_shown`.
        """
        error = self._error_of(reference)
        shown_c = (
            air_shown(self.truth, true_c)
            if channel == "air"
            else stack_shown(self.truth, true_c, self.room_air, of=of)
        )
        if channel in self.truth.missing:
            shown_c = float("nan")
        return self._against(reference, "temperature", channel, "degC", true_c + error, shown_c, of=of)

    def pressure(self, reference: str, true_pa: float, channel: str = "draft") -> str:
        """Hold the draft channel against a manometer at about true_pa [Pa]. Source: as `sensing.draft_shown`."""
        error = self._error_of(reference)
        return self._against(reference, "pressure", channel, "Pa", true_pa + error, draft_shown(self.truth, true_pa))

    def flow(self, reference: str) -> str:
        """Measure the pump's flow at the inlet of the instrument with a flow meter. Source: own model."""
        value = self.truth.pump_flow_l_min + self._error_of(reference)
        return self.measuring(
            "flow", path={"feed": "instrument"}, reference=reference,
            reference_value={"unit": "l/min", "value": round(value, 2)},
        )

    def _error_of(self, reference: str) -> float:
        if reference not in self.instrument_errors:
            raise StepError(f"no thermometer, manometer or flow meter {reference!r} in this visit")
        return self.instrument_errors[reference] + draw_source_error(self.head["references"][reference], self.generator)

    def _against(
        self, reference: str, kind: str, channel: str, unit: str, value: float, shown: float, **extra: Any
    ) -> str:
        display = display_of(self.profile.channels[channel], us_units=self.style.us_units)
        per_core = difference_from_core(1.0, display.unit, display.core_unit)
        looks = shown + 0.2 * display.step / per_core * self.generator.standard_normal(3)
        reading = {
            "channel": channel, "unit": display.unit, "step": display.step, "shown": display.show(looks.tolist())
        }
        return self.measuring(
            kind, 4.0, channel=channel, **extra, reference=reference,
            reference_value={"unit": unit, "value": round(value, 1)}, readings=[reading],
        )

    def adjust(self, channel: str, reference: str, feed: str = "instrument") -> bool:
        """Enter a bottle's certified value on its gas; the unit accepts it inside its adjustable range.

        The span factor moves by entered / shown, and with it the gain that the display has from now on. Returns
        whether the unit accepted. A unit without an adjustment for the channel refuses.
        Source: bench-record.md, step `adjust`; own derivation.
        """
        entered = float(self.head["references"][reference]["components"][channel.split("_", maxsplit=1)[0]]["value"])
        gas = self._gas_at(reference, feed, "owner", self.style.supply_l_min, pinched=False, vent_open=True)
        shown = end_value(self.truth, self._channels[channel], gas, self.room_air, self.zeroed_in_co_ppm)
        shown += float(self.generator.normal(0.0, 0.001)) * shown
        wanted = self.truth.correction.get(channel, 1.0) * entered / shown if shown > 0 else float("inf")
        accepted = self._takes(channel, entered / shown if shown > 0 else float("inf"))
        if accepted:
            self.truth = replace(
                self.truth,
                correction={**self.truth.correction, channel: wanted},
                gain={**self.truth.gain, channel: self.truth.gain_of(channel) * entered / shown},
            )
        unit = self.profile.channels[channel].unit
        self.happening(
            "adjust", 6.0, channel=channel, reference=reference, entered={"unit": unit, "value": entered},
            accepted=accepted, attempt=1, signal={"before": None, "after": None},
        )
        return accepted

    def _takes(self, channel: str, factor: float) -> bool:
        rule, cell = self.profile.adjust.get(channel), self.profile.cells.get(channel)
        if rule is None or "span" not in rule.can or not rule.gain_low <= factor <= rule.gain_high:
            return False
        own_gain = self.truth.gain_of(channel) / self.truth.correction.get(channel, 1.0)
        return cell is None or bool(cell.gain_low <= own_gain <= cell.gain_high)

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
