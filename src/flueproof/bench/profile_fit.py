"""Whether a record fits the profile that it is judged by: channels, units and display steps."""

from __future__ import annotations

from collections.abc import Iterable

from flueproof.analyzer.errors import UnitError
from flueproof.analyzer.profile import Channel, Profile
from flueproof.analyzer.units import CORE_UNITS, difference_to_core, units_of
from flueproof.bench.errors import RecordError
from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.gas import AmbientAirStep, SwapTestStep, TestGasStep
from flueproof.bench.record.steps.sensors import PressureStep, TemperatureStep
from flueproof.bench.record.steps.work import AdjustStep
from flueproof.bench.record.values.readings import AnyReading

COARSEST = 0.05  # of a channel's range: no display steps more coarsely; common practice, no source
COMPARING = (TestGasStep, SwapTestStep, AmbientAirStep, TemperatureStep, PressureStep)


def refuse_misfits(record: Record, profile: Profile) -> None:
    """Refuse channels that the profile lacks, units that do not belong to a channel, and impossible display steps.

    Struck steps are looked at too: they stay in the record and must be readable.
    Raises: RecordError with the path from the record's top.
    Source: own rule.
    """
    for place, step in enumerate(record.steps):
        where = f"$.steps[{place}]"
        if isinstance(step, AdjustStep):
            channel_of(step.channel, profile, f"{where}.channel")
        elif isinstance(step, COMPARING):
            readings: Iterable[AnyReading] = step.readings
            for number, reading in enumerate(readings):
                _refuse_reading(reading, profile, f"{where}.readings[{number}]")


def channel_of(name: str, profile: Profile, where: str) -> Channel:
    """Return a channel of the profile; `where` is the place of its name in the record.

    Raises: RecordError when the profile has none of that name. Source: own rule.
    """
    channel = profile.channels.get(name)
    if channel is None:
        raise RecordError(
            where,
            f"the profile {profile.name} has no channel {name!r}.",
            f"Use one of {', '.join(profile.channels)}, or name the right profile.",
        )
    return channel


def core_difference(value: float, unit: str, channel: Channel, where: str) -> float:
    """Return a difference [unit of the channel].

    where: place of the unit in the record. Raises: RecordError for a unit of another quantity. Source: own rule.
    """
    try:
        return difference_to_core(value, unit, channel.unit)
    except UnitError:
        quantity = next(name for name, core in CORE_UNITS.items() if core == channel.unit)
        raise RecordError(
            where,
            f"{channel.title} is measured in {channel.unit}; {unit!r} is no unit for it.",
            f"Use one of {', '.join(units_of(quantity))}.",
        ) from None


def _refuse_reading(reading: AnyReading, profile: Profile, where: str) -> None:
    channel = channel_of(reading.channel, profile, f"{where}.channel")
    step = core_difference(reading.step, reading.unit, channel, f"{where}.unit")
    if step > COARSEST * (channel.high - channel.low):
        raise RecordError(
            f"{where}.step",
            f"a display step of {reading.step:g} {reading.unit} is more than {100 * COARSEST:g} % of the range of "
            f"{channel.title} ({channel.low:g} to {channel.high:g} {channel.unit}).",
            "Enter the smallest change that the display can show.",
        )
