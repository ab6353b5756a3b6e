"""What a careful reader of a record would ask about: dates, values entered, settings changed after the last gas."""

from __future__ import annotations

import re
from collections.abc import Iterable

from flueproof.analyzer.errors import UnitError
from flueproof.analyzer.profile import Profile
from flueproof.analyzer.units import to_core
from flueproof.bench.judge.gathering import gas_reference
from flueproof.bench.judgement import Note
from flueproof.bench.record.record import Record
from flueproof.bench.record.references import TestGas
from flueproof.bench.record.steps.gas import TestGasStep
from flueproof.bench.record.steps.surroundings import SettingsStep
from flueproof.bench.record.steps.work import AdjustStep

# Settings that enter what is measured; fuel, date or language do not (common practice, no source).
MEASURED_BY = re.compile(
    r"altitude|elevation|height|pressure|baromet|offset|zero|span|gain|slope|factor", re.IGNORECASE
)


def oddities(record: Record, profile: Profile) -> list[Note]:
    """Return notes on what does not fit together in a record that can be judged all the same.

    A setting that enters the readings, changed with no gas after it, stops the signing.
    Source: own rules; trade practice, 1.1 (settings as found before anything is changed) and 1.3 (altitude).
    """
    return [*_received_later(record), *_entered_otherwise(record, profile), *_settings_without_gas(record)]


def _received_later(record: Record) -> Iterable[Note]:
    standing = record.standing_steps()
    first = standing[0].at.date() if standing else None
    if first is not None and first < record.received.date:
        text = f"The analyzer was received on {record.received.date}, after the first step of {first}. Check the dates."
        yield Note("received-after-work", text)


def _entered_otherwise(record: Record, profile: Profile) -> Iterable[Note]:
    for step in record.standing_steps():
        if not isinstance(step, AdjustStep) or not step.accepted or step.entered is None or step.reference is None:
            continue
        channel, gas = profile.channels.get(step.channel), record.references.get(step.reference)
        given = gas_reference(gas, step.reference, channel) if channel and isinstance(gas, TestGas) else None
        if channel is None or given is None:
            continue
        try:
            entered = to_core(step.entered.value, step.entered.unit, channel.unit)
        except UnitError:
            continue
        if abs(entered - given.value) > channel.step:
            text = (
                f"{channel.title} was adjusted to {entered:g} {channel.unit} on {step.reference}, which holds "
                f"{given.value:g} {channel.unit}. Check what was entered."
            )
            yield Note("entered-otherwise", text, step.id)


def _settings_without_gas(record: Record) -> Iterable[Note]:
    standing = record.standing_steps()
    gas = [place for place, step in enumerate(standing) if isinstance(step, TestGasStep)]
    for place, step in enumerate(standing):
        if not isinstance(step, SettingsStep) or not gas or place < gas[-1]:
            continue
        named = [name for name in step.changed if MEASURED_BY.search(name)]
        if named:
            text = (
                f"{', '.join(named)}: changed after the last gas, and the readings depend on it. "
                "Measure on gas again, as left."
            )
            yield Note("settings-after-gas", text, step.id, blocks=True)
