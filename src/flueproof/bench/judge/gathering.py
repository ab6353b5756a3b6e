"""From the steps of a record to settled readings beside their references, in core units."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from flueproof.analyzer.profile import Channel, Profile
from flueproof.analyzer.units import difference_to_core, to_core
from flueproof.bench.bundle import Bundle
from flueproof.bench.errors import RecordError
from flueproof.bench.judge.gas_on_record import blend_of, certified_components, common_cause
from flueproof.bench.judge.measured import Measured, ReferenceValue
from flueproof.bench.profile_fit import channel_of
from flueproof.bench.record.record import Record
from flueproof.bench.record.references import Manometer, TestGas, Thermometer
from flueproof.bench.record.steps.gas import AmbientAirStep, SwapTestStep, TestGasStep
from flueproof.bench.record.steps.sensors import PressureStep, TemperatureStep
from flueproof.bench.record.values.readings import AnyReading
from flueproof.readings.errors import ReadingsError
from flueproof.readings.floor import floored
from flueproof.readings.population import ResponsePrior
from flueproof.readings.settling import SettledValue, settle
from flueproof.readings.shown import read_shown
from flueproof.testgas.blend import GASES


def component_name(channel: Channel) -> str:
    """Return the gas that a channel measures: `co_high` and `co` both measure `co` (own naming rule)."""
    return channel.name.split("_", maxsplit=1)[0]


def gas_reference(gas: TestGas, identifier: str, channel: Channel) -> ReferenceValue | None:
    """Return what a blend holds of a channel's gas [unit of the channel], None when nothing can be said.

    A component that the certificate names keeps its stated uncertainty. One that it does not name is taken from the
    balance gas, within its purity.
    Source: see gas_on_record.blend_of and testgas.blend.
    """
    name = component_name(channel)
    blend = blend_of(gas)
    certified = certified_components(gas)
    if name in certified:
        part, implied = certified[name].in_unit(channel.unit), False
    elif blend is not None and name in GASES:
        part, implied = blend.component(name, channel.unit), True
    else:
        return None
    return ReferenceValue(
        part.value,
        part.u,
        part.dof,
        part.kind,
        identifier,
        gas.supplier,
        stated=part.stated,
        implied=implied,
        cause=common_cause(gas, identifier),
    )


def instrument_reference(
    reference: Thermometer | Manometer, identifier: str, value: float, unit: str, channel: Channel
) -> ReferenceValue:
    """Return a thermometer's or manometer's value beside a channel [unit of the channel].

    value, unit: what the reference said. Source: JCGM 100:2008, 4.3.3.
    """
    u = difference_to_core(reference.expanded_uncertainty, reference.unit, channel.unit) / reference.k
    source = getattr(reference, "source_u", None) or 0.0
    return ReferenceValue(
        value=to_core(value, unit, channel.unit),
        u_certificate=u,
        dof=math.inf,
        kind="normal",
        identifier=identifier,
        u_source=difference_to_core(source, reference.unit, channel.unit),
        stated="instrument",
    )


def _zero_is_a_number(shown: Sequence[float | str], reading: AnyReading, channel: Channel) -> bool:
    """Tell whether a zero in a course of looks is a number: O2 is never negative, so 0 is within half a step of it.

    A display that stood at its floor all the time stays a bound, and so does every zero of another gas.
    """
    if channel.set_in_air is None or reading.t_s is None or channel.clamp_low is None:
        return False
    numbers = [item for item in shown if not isinstance(item, str)]
    return any(item > channel.clamp_low for item in numbers)


def settled_reading(
    reading: AnyReading, channel: Channel, *, gas_on_s: float | None, hold_s: float, prior: ResponsePrior | None
) -> tuple[SettledValue, float | str | None]:
    """Return the settled value of one reading in the channel's core unit, and what stood there at the hold time.

    Source: see readings.settling.
    """
    shown: list[float | str] = [
        item if isinstance(item, str) else to_core(float(item), reading.unit, channel.unit) for item in reading.shown
    ]
    step = difference_to_core(reading.step, reading.unit, channel.unit)
    looks = read_shown(
        shown,
        None if reading.t_s is None else np.asarray(reading.t_s, dtype=np.float64),
        step,
        clamp_low=None if _zero_is_a_number(shown, reading, channel) else channel.clamp_low,
        snap_to=channel.snap_to,
        snap_width=channel.snap_width,
    )
    settled = floored(settle(looks, gas_on_s=gas_on_s, hold_s=hold_s, prior=prior), channel.clamp_low)
    return settled, settled.displayed_at_hold


def gather(record: Record, profile: Profile, bundle: Bundle) -> list[Measured]:
    """Return every settled reading of the standing steps that compare a channel with something.

    Struck steps are left out. Room air has no reference: it is no test of a channel zeroed there.
    Raises: RecordError when a step reads a channel that the profile does not have.
    Source: bench record format 1.
    """
    priors = {name: ResponsePrior.from_dict(data) for name, data in bundle.response.items()}
    found: list[Measured] = []
    positions = {step.id: index for index, step in enumerate(record.steps)}
    for step in record.standing_steps():
        if isinstance(step, TestGasStep | SwapTestStep | AmbientAirStep | TemperatureStep | PressureStep):
            place = f"$.steps[{positions[step.id]}]"
            found.extend(_of_step(step, place, record, profile, priors))
    return found


def _of_step(
    step: TestGasStep | SwapTestStep | AmbientAirStep | TemperatureStep | PressureStep,
    place: str,
    record: Record,
    profile: Profile,
    priors: Mapping[str, ResponsePrior],
) -> Iterable[Measured]:
    readings: tuple[AnyReading, ...] = step.readings
    for index, reading in enumerate(readings):
        channel = channel_of(reading.channel, profile, f"{place}.readings[{index}].channel")
        gas_on = step.gas_on_s if isinstance(step, TestGasStep | SwapTestStep) else None
        try:
            settled, displayed = settled_reading(
                reading, channel, gas_on_s=gas_on, hold_s=profile.hold_s, prior=priors.get(channel.name)
            )
        except ReadingsError as error:
            where = f"{place}.readings[{index}]"
            raise RecordError(f"{where}.shown", f"{error}.", "Correct the reading, or strike the step.") from None
        path = getattr(step, "path", None)
        feed = getattr(step, "feed", None)
        yield Measured(
            step=step.id,
            at=step.at,
            phase=step.phase,
            kind=step.kind,
            channel=channel.name,
            unit=channel.unit,
            feed=path.feed if path is not None else None,
            probe=path.probe if path is not None else None,
            of=getattr(step, "of", None),
            application=getattr(step, "application", 1),
            pinched=bool(feed is not None and feed.pinched),
            settled=settled,
            reference=_reference(step, record, channel),
            displayed_at_hold=displayed,
            on_gas_s=None if reading.t_s is None else reading.t_s[-1] - settled.gas_on_s,
        )


def _reference(
    step: TestGasStep | SwapTestStep | AmbientAirStep | TemperatureStep | PressureStep,
    record: Record,
    channel: Channel,
) -> ReferenceValue | None:
    if isinstance(step, AmbientAirStep):
        return None
    reference = record.references[step.reference]
    if isinstance(step, TemperatureStep | PressureStep):
        if channel.name != step.channel or not isinstance(reference, Thermometer | Manometer):
            return None
        given = step.reference_value
        return instrument_reference(reference, step.reference, given.value, given.unit, channel)
    return gas_reference(reference, step.reference, channel) if isinstance(reference, TestGas) else None


def blend_contents(record: Record, profile: Profile) -> dict[str, dict[str, float]]:
    """Return per test-gas step what the blend holds by gas name: O2, CO2, H2 in %, the rest in ppm.

    Source: bench record format 1 (certified components).
    """
    contents: dict[str, dict[str, float]] = {}
    units = {name: channel.unit for name, channel in profile.channels.items()}
    for step in record.standing_steps():
        if isinstance(step, TestGasStep | SwapTestStep):
            gas = record.references[step.reference]
            if isinstance(gas, TestGas):
                contents[step.id] = {
                    name: to_core(part.value, part.unit, units.get(name, "ppm"))
                    for name, part in gas.components.items()
                    if part.value > 0
                }
    return contents
