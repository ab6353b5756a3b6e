"""Whether a reference may be connected: the reason in words when not."""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Final

from django.utils import timezone

from flueproof.analyzer.profile import Channel, Point, Profile
from flueproof.bench.judge.gas_on_record import BALANCE_NAMES, state_on
from flueproof.bench.judge.gathering import gas_reference
from flueproof.bench.next_test.gases import CylinderAtHand, serves
from flueproof.bench.record.references import TestGas
from flueproof.shop.records.gas.as_certified import certified
from flueproof.shop.records.gas.litres import left
from flueproof.shop.records.keeping.plate_key import plate_key
from flueproof.shop.records.models import Reference

KIND_OF_POINT: Final = {
    "test-gas": "test-gas",
    "cross": "test-gas",
    "temperature": "thermometer",
    "pressure": "manometer",
    "flow": "flow-meter",
}
KIND_IN_WORDS: Final = {
    "test-gas": "a test gas",
    "thermometer": "a thermometer",
    "manometer": "a manometer",
    "flow-meter": "a flow meter",
}


def find_by_code(text: str) -> Reference | None:
    """Return the reference whose scan code was read or typed; case, spaces and dashes do not matter."""
    wanted = text.strip()
    if not wanted:
        return None
    exact: Reference | None = Reference.objects.filter(code__iexact=wanted).first()
    if exact is not None:
        return exact
    key = plate_key(wanted)
    alike = [pk for pk, code in Reference.objects.values_list("pk", "code") if key and plate_key(code) == key]
    return Reference.objects.get(pk=alike[0]) if len(alike) == 1 else None


def refusal_of(
    reference: Reference, *, point: Point | None, profile: Profile, day: date, channel: str | None = None
) -> str:
    """Return why a reference may not be connected, in one or two sentences; "" when it may be.

    point: what it shall serve, None for a test outside the procedure; channel: then the channel that is looked at;
    day: of the work. Source: expiry 40 CFR 60 App. A-4, Method 7E, 7.1; the profile's points; own rules.
    """
    return condition_of(reference, day) or _unfit(reference, point, profile, channel)


def condition_of(reference: Reference, day: date) -> str:
    """Return why a reference may not be used at all on a day, whatever for; "" when it may be."""
    if reference.state == "withdrawn":
        why = f": {reference.withdrawn_why}" if reference.withdrawn_why else ""
        return f"{reference.code} is withdrawn{why}. Take another one."
    if reference.state == "empty":
        return f"{reference.code} is empty. Take a full one, or enter what its gauge shows if that is wrong."
    if said := _out_of_date(reference, day):
        return said
    if reference.state == "new":
        return (
            f"{reference.code} is not yet checked against the old one on the control analyzer. "
            "Check it on the Gas rack first."
        )
    return _spent(reference, day)


def _out_of_date(reference: Reference, day: date) -> str:
    content = certified(reference.content)
    if isinstance(content, TestGas):
        state = state_on(content, day)
        if state is not None and not state.usable:
            return f"{reference.code}: {state.warnings[0]}"
        if state is None and not content.certified <= day <= content.expires:
            return f"{reference.code} is not in date: {content.certified} to {content.expires}. Replace it."
        return ""
    if day > content.due:
        return f"{reference.code} was due for calibration on {content.due}. Take one that is in date."
    return ""


def _spent(reference: Reference, day: date) -> str:
    if reference.kind != "test-gas":
        return ""
    now = datetime.combine(day, time.max, tzinfo=timezone.get_current_timezone())
    found = left(reference, now)
    if found.litres is not None and found.litres <= 0.0:
        return (
            f"{reference.code} is at its lowest allowed pressure ({reference.minimum_kpa:,.0f} kPa), by "
            f"{found.rests_on}. Take a full one, or enter what the gauge shows."
        )
    return ""


def _unfit(reference: Reference, point: Point | None, profile: Profile, channel: str | None) -> str:
    wanted = KIND_OF_POINT.get(point.kind) if point is not None else None
    if wanted is not None and reference.kind != wanted:
        said = KIND_IN_WORDS.get(reference.kind, reference.kind)
        return f"{reference.code} is {said}; this point needs {KIND_IN_WORDS[wanted]}."
    content = certified(reference.content)
    if not isinstance(content, TestGas):
        return ""
    if point is not None and point.kind in {"test-gas", "cross"} and point.channel is not None:
        return _wrong_gas(reference.code, content, point, profile)
    if channel is not None and channel in profile.channels:
        return _says_nothing(reference.code, content, profile.channels[channel])
    return ""


def _wrong_gas(code: str, gas: TestGas, point: Point, profile: Profile) -> str:
    balance = gas.balance.strip().lower()
    if point.balance and BALANCE_NAMES.get(balance, balance) not in point.balance:
        return f"{code} has the wrong balance: {gas.balance}. {point.title} needs {' or '.join(point.balance)}."
    if serves(point, CylinderAtHand(code, gas), profile):
        return ""
    channel = profile.channels[point.channel or ""]
    name = (point.gas if point.kind == "cross" else channel.title) or channel.title
    part = gas_reference(gas, code, channel) if point.kind == "test-gas" else None
    given = next((one for key, one in gas.components.items() if key == point.gas), None)
    if part is not None and not part.implied:
        holds = f"{part.value:g} {channel.unit} {name}"
    elif given is not None:
        holds = f"{given.value:g} {given.unit} {name.upper()}, or {channel.title} itself"
    else:
        holds = f"no certified {name.upper()}"
    span = f"{point.low:g} to {point.high:g} {channel.unit}" if point.low is not None and point.high is not None else ""
    return f"{code} is the wrong gas: it holds {holds}; {point.title} needs {span}.".replace(" ;", ";")


def _says_nothing(code: str, gas: TestGas, channel: Channel) -> str:
    part = gas_reference(gas, code, channel)
    if part is None:
        return f"{code} says nothing about {channel.title}: it is not on its certificate."
    if part.value > channel.high:
        return f"{code} holds {part.value:g} {channel.unit}; {channel.title} reads only to {channel.high:g}."
    return ""
