"""What a channel should show while something is on: reference value and limits, in the unit of the display."""

from __future__ import annotations

from dataclasses import dataclass

from flueproof.analyzer.errors import NoLimitError, UnitError
from flueproof.analyzer.profile import Channel, Profile
from flueproof.analyzer.units import difference_from_core, from_core, to_core
from flueproof.bench.judge.gathering import gas_reference
from flueproof.bench.record.references import TestGas
from flueproof.shop.records.gas.as_certified import certified
from flueproof.shop.records.models import Application, Reference


@dataclass(frozen=True, slots=True)
class Aim:
    """The reference value and the largest permitted error [unit of the display]; limit None where none is set."""

    reference: float
    limit: float | None


def aim_of(application: Application, channel: Channel, unit: str) -> Aim | None:
    """Return what a channel should show, None where nothing says so."""
    value = _reference_value(application, channel)
    if value is None:
        return None
    try:
        shown = float(from_core(value, unit, channel.unit))
    except UnitError:
        return None
    try:
        limit = channel.limit_at(value, str(application.plan.get("phase", "as-found"))).value
    except NoLimitError:
        return Aim(shown, None)
    return Aim(shown, float(difference_from_core(limit, unit, channel.unit)))


def reference_value(reference: Reference, channel: Channel) -> float | None:
    """Return what a cylinder holds of a channel's gas [unit of the channel], None where it says nothing."""
    content = certified(reference.content)
    if not isinstance(content, TestGas) or not channel.measures_gas:
        return None
    found = gas_reference(content, reference.code, channel)
    return None if found is None else found.value


def display_of(name: str, profile: Profile, steps: list[dict[str, object]], wanted: str = "") -> tuple[str, float]:
    """Return unit and display step of a channel: as read last on this visit, else the profile's.

    wanted: another unit that a person reads; steps: of the record.
    """
    channel = profile.channels[name]
    for step in reversed(steps):
        for reading in step.get("readings", []):  # type: ignore[attr-defined] # JSON of a step
            if reading["channel"] == name and wanted in {"", reading["unit"]}:
                return reading["unit"], reading["step"]
    if wanted in {"", channel.unit}:
        return channel.unit, channel.step
    difference_from_core(1.0, wanted, channel.unit)  # a unit of another quantity is refused here
    return wanted, {"inH2O": 0.01, "mbar": 0.01}.get(wanted, channel.step)


def _reference_value(application: Application, channel: Channel) -> float | None:
    extra = application.plan.get("extra", {})
    given = extra.get("reference_value")
    if given is not None:
        if extra.get("channel") != channel.name:
            return None
        return float(to_core(float(given["value"]), given["unit"], channel.unit))
    if application.reference is None:
        return None
    return reference_value(application.reference, channel)
