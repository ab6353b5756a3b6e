"""What makes a step unfit to be judged: references, feed, timing, range. Said, and it stops the signing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from flueproof.analyzer.profile import Profile
from flueproof.analyzer.units import to_core
from flueproof.bench.judge.gas_on_record import state_on
from flueproof.bench.judge.gathering import component_name, gas_reference
from flueproof.bench.judgement import Note
from flueproof.bench.part_names import cells_named
from flueproof.bench.record.record import Record
from flueproof.bench.record.references import TestGas
from flueproof.bench.record.steps.gas import SwapTestStep, TestGasStep
from flueproof.bench.record.steps.sensors import FlowStep, PressureStep, TemperatureStep
from flueproof.bench.record.steps.surroundings import RoomStep, ZeroingStep
from flueproof.bench.record.steps.work import PartStep
from flueproof.bench.verdict.superseded import superseded_readings

CLEANER_BY_PPM = 3.0  # CO at two zeroings that is not told apart: about 2 u of two looks at a room monitor; own choice

Compared = TestGasStep | SwapTestStep | TemperatureStep | PressureStep | FlowStep


@dataclass(frozen=True, slots=True)
class Validity:
    """Notes on unfit steps; `unfit` holds (step, channel), channel None for the whole step.

    void: readings as left that later work touched, (step, channel), channel None for a tightness test.
    apart: repeats that exclude each other, (step, channel): they are unfit too, and no mean is made of them.
    """

    notes: tuple[Note, ...]
    unfit: frozenset[tuple[str, str | None]]
    void: frozenset[tuple[str, str | None]] = frozenset()
    apart: frozenset[tuple[str, str]] = frozenset()

    def fit(self, step: str, channel: str) -> bool:
        """Tell whether a channel's reading at a step may be judged (own rule)."""
        return (step, None) not in self.unfit and (step, channel) not in self.unfit

    def is_void(self, step: str, channel: str | None = None) -> bool:
        """Tell whether later work has made a reading void, or with no channel a tightness test (own rule)."""
        return (step, channel) in self.void


def _reference_in_date(step: Compared, record: Record) -> Iterable[Note]:
    reference = record.references[step.reference]
    day = step.at.date()
    if isinstance(reference, TestGas):
        yield from _gas_in_date(step, reference, day)
    elif day > reference.due:
        yield Note(
            "reference-overdue",
            f"Reference {step.reference} was due for its own calibration on {reference.due}; the step was done on "
            f"{day}. Repeat it with a reference in date.",
            step.id,
            blocks=True,
        )


def _gas_in_date(step: Compared, gas: TestGas, day: date) -> Iterable[Note]:
    """The certificate's dates stop the signing; published shelf lives only warn."""
    if day > gas.expires:
        text = (
            f"Test gas {step.reference} expired on {gas.expires}; the step was done on {day}. "
            "Repeat it with a gas in date."
        )
        yield Note("expired-gas", text, step.id, blocks=True)
    if day < gas.certified:
        text = f"Test gas {step.reference} was certified on {gas.certified}, after the step of {day}. Check both dates."
        yield Note("gas-not-yet-certified", text, step.id, blocks=True)
    state = state_on(gas, day)
    if state is not None and state.usable:
        for warning in state.warnings:
            yield Note("gas-shelf-life", f"Test gas {step.reference}: {warning}", step.id)


def _feed(step: TestGasStep | SwapTestStep, profile: Profile) -> Iterable[Note]:
    feed = step.feed
    if feed is None or not feed.vent_open:
        yield Note(
            "no-vent-flow",
            "Nothing shows that excess gas left at the vent: the pump may have drawn room air, or been pressurized. "
            "Repeat with an open tee and flow at the vent.",
            step.id,
            blocks=True,
        )
    if feed is not None and feed.supply_l_min is not None and feed.supply_l_min < profile.pump_flow_l_min.low:
        yield Note(
            "supply-below-pump",
            f"The gas came at {feed.supply_l_min:g} l/min, less than the pump draws (at least "
            f"{profile.pump_flow_l_min.low:g} l/min). Repeat with 1.5 to 2 times the pump's flow.",
            step.id,
            blocks=True,
        )
    low = profile.minimum_pressure_kpa
    if feed is not None and feed.gauge_kpa_before is not None and feed.gauge_kpa_before < low:
        yield Note(
            "low-cylinder-pressure",
            f"The cylinder stood at {feed.gauge_kpa_before:g} kPa, below the {low:g} kPa down to which its certificate "
            "is trusted. Repeat with a fuller cylinder.",
            step.id,
            blocks=True,
        )


def _warm_up(record: Record, profile: Profile) -> Iterable[Note]:
    zeroed: datetime | None = None
    for step in record.standing_steps():
        if isinstance(step, ZeroingStep):
            zeroed = step.at
        elif isinstance(step, TestGasStep | SwapTestStep):
            if zeroed is None:
                yield Note("no-zeroing", "No zeroing stands before this gas, so the warm-up cannot be shown.", step.id)
            elif step.at < zeroed + timedelta(seconds=profile.warm_up_s):
                yield Note(
                    "too-early-after-switch-on",
                    f"The gas was put on {(step.at - zeroed).total_seconds():.0f} s after zeroing; the profile asks "
                    f"for {profile.warm_up_s:g} s. Repeat it.",
                    step.id,
                    blocks=True,
                )


def _recovery(record: Record, profile: Profile) -> Iterable[Note]:
    rule = profile.recovery_after_high_co
    high_at: datetime | None = None
    standing = {step.id for step in record.standing_steps()}
    for step in record.steps:  # struck ones too: the cell did see their gas
        if not isinstance(step, TestGasStep | SwapTestStep):
            continue
        if step.id in standing and high_at is not None and step.at < high_at + timedelta(minutes=rule.minutes):
            yield Note(
                "too-early-after-high-co",
                f"CO above {rule.ppm:g} ppm was on the cell {(step.at - high_at).total_seconds() / 60:.0f} min before; "
                f"the profile asks for {rule.minutes:g} min of clean air. Repeat it.",
                step.id,
                blocks=True,
            )
        gas = record.references[step.reference]
        part = gas.components.get("co") if isinstance(gas, TestGas) else None
        if part is not None and to_core(part.value, part.unit, "ppm") > rule.ppm:
            high_at = step.at


def _new_cells(record: Record, profile: Profile) -> Iterable[tuple[Note, str]]:
    fitted: dict[str, datetime] = {}
    for step in record.standing_steps():
        if isinstance(step, PartStep) and step.done in {"replaced", "fitted"}:
            fitted.update(dict.fromkeys(cells_named(step.what, profile), step.at))
        elif isinstance(step, TestGasStep):
            for gas, at in fitted.items():
                wait = profile.cells[gas].settle_hours
                if step.at < at + timedelta(hours=wait):
                    text = (
                        f"The new {gas.upper()} cell had been in the unit for "
                        f"{(step.at - at).total_seconds() / 3600:.1f} h; the profile asks for {wait:g} h to settle. "
                        "Repeat it later."
                    )
                    yield Note("too-early-after-new-cell", text, step.id, blocks=True), gas


def clean_zero_co_ppm(record: Record, phase: str) -> float | None:
    """Return the least CO in the room at a zeroing behind gas of the phase [ppm], None where none was logged.

    Source: own rule; a zero taken in CO shows as a shortfall that is constant in ppm.
    """
    known = [co_ppm for co_ppm, steps in _zeroings(record, phase) if co_ppm is not None and steps]
    return min(known, default=None)


def _zeroings(record: Record, phase: str) -> list[tuple[float | None, list[TestGasStep | SwapTestStep]]]:
    """Each zeroing: CO in the room at that time [ppm] and the gas of the phase that was read on this zero."""
    found: list[tuple[float | None, list[TestGasStep | SwapTestStep]]] = [(None, [])]
    logged: float | None = None
    for step in record.standing_steps():
        if isinstance(step, RoomStep) and step.room_co_ppm is not None:
            logged = step.room_co_ppm
            if found[-1][0] is None and not found[-1][1]:  # logged after the zeroing, before any gas
                found[-1] = (logged, [])
        elif isinstance(step, ZeroingStep):
            found.append((logged, []))
        elif isinstance(step, TestGasStep | SwapTestStep) and step.phase == phase:
            found[-1][1].append(step)
    return found


def _zeroed_in_co(record: Record, profile: Profile) -> Iterable[tuple[Note, str]]:
    """Yield CO readings on a zero taken in CO, once gas was read on a cleaner zero of the same phase."""
    for phase in ("as-found", "as-left"):
        clean = clean_zero_co_ppm(record, phase)
        for co_ppm, steps in _zeroings(record, phase):
            if clean is None or co_ppm is None or co_ppm <= clean + CLEANER_BY_PPM:
                continue
            for step in steps:
                for reading in step.readings:
                    channel = profile.channels.get(reading.channel)
                    if channel is None or component_name(channel) != "co" or not channel.zeroed_in_air:
                        continue
                    text = (
                        f"{channel.title} was read on a zero taken in air with {co_ppm:g} ppm CO. The unit was zeroed "
                        f"in cleaner air too ({clean:g} ppm), so this reading no longer counts."
                    )
                    yield Note("zeroed-in-co", text, step.id, blocks=True), channel.name


def _balances(record: Record, profile: Profile) -> Iterable[tuple[Note, str]]:
    """Yield the readings on a gas whose content is asked for, but in another balance."""
    for step in record.standing_steps():
        if not isinstance(step, TestGasStep):
            continue
        gas = record.references[step.reference]
        for reading in step.readings:
            channel = profile.channels.get(reading.channel)
            if channel is None or not isinstance(gas, TestGas):
                continue
            given = gas_reference(gas, step.reference, channel)
            asking = [
                point
                for point in profile.points
                if point.kind == "test-gas"
                and point.channel == channel.name
                and point.balance
                and given is not None
                and point.holds(given.value)
            ]
            if asking and not any(_balance_word(gas.balance) in point.balance for point in asking):
                wanted = " or ".join(dict.fromkeys(name for point in asking for name in point.balance))
                text = (
                    f"{channel.title} was tested on {step.reference}, whose balance is {gas.balance}; the point "
                    f"{asking[0].id} asks for {wanted}. Repeat it with a gas in {wanted}."
                )
                yield Note("wrong-balance-gas", text, step.id, blocks=True), channel.name


def _balance_word(balance: str) -> str:
    word = balance.strip().lower()
    return {"n2": "nitrogen", "synthetic air": "air", "zero air": "air"}.get(word, word)


def _ranges(record: Record, profile: Profile) -> Iterable[tuple[Note, str]]:
    for step in record.standing_steps():
        if not isinstance(step, TestGasStep | SwapTestStep | TemperatureStep | PressureStep):
            continue
        for reading in step.readings:
            channel = profile.channels.get(reading.channel)
            if channel is None:
                continue
            numbers = [float(item) for item in reading.shown if not isinstance(item, str)]
            core = [to_core(number, reading.unit, channel.unit) for number in numbers]
            slack = 1e-9 + channel.step
            wrong = [
                n for n, c in zip(numbers, core, strict=True) if not channel.low - slack <= c <= channel.high + slack
            ]
            if wrong:
                text = (
                    f"{channel.title} shows {wrong[0]:g} {reading.unit}, outside the channel's range of "
                    f"{channel.low:g} to {channel.high:g} {channel.unit}. Check the entry."
                )
                yield Note("reading-outside-range", text, step.id, blocks=True), channel.name


def validity_of(record: Record, profile: Profile) -> Validity:
    """Return what makes steps of a record unfit, with its remedy.

    Source: own rules after trade practice (common practice, no source); expiry: 40 CFR 60 App. A-4, Method 7E, 7.1;
    minimum pressure: the profile's source; vent flow: OIML R 144-2, 1.5.2 (gas at ambient pressure).
    """
    notes: list[Note] = []
    unfit: set[tuple[str, str | None]] = set()
    for step in record.standing_steps():
        if isinstance(step, TestGasStep | SwapTestStep | TemperatureStep | PressureStep | FlowStep):
            notes.extend(_reference_in_date(step, record))
        if isinstance(step, TestGasStep | SwapTestStep):
            notes.extend(_feed(step, profile))
    notes.extend(_warm_up(record, profile))
    notes.extend(_recovery(record, profile))
    unfit.update((note.step, None) for note in notes if note.blocks and note.step is not None)
    for note, channel in (
        *_new_cells(record, profile),
        *_zeroed_in_co(record, profile),
        *_balances(record, profile),
        *_ranges(record, profile),
    ):
        notes.append(note)
        unfit.add((note.step or "", channel))
    void, said = superseded_readings(record, profile)
    return Validity((*notes, *said), frozenset(unfit), void)
