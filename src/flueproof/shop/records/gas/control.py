"""One bottle on the shop's control analyzer: what it should show, what it shows, and the span factor."""

from __future__ import annotations

import math
from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any

from pydantic import ValidationError

from flueproof.analyzer.profile import Channel, Profile
from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.bundle import EMPTY_BUNDLE
from flueproof.bench.judge.gathering import gas_reference, settled_reading
from flueproof.bench.judge.measured import Measured, ReferenceValue
from flueproof.bench.judge.points import PointGroup, judged_point
from flueproof.bench.judgement import PointJudgement
from flueproof.bench.record.values.readings import Reading
from flueproof.metrology.conformity import decision_rule
from flueproof.readings.errors import ReadingsError
from flueproof.shop.records.gas.as_certified import test_gas_of
from flueproof.shop.records.models import Analyzer, Reference
from flueproof.testgas.span.factor import SpanFactor, span_factor

PHASE = "as-left"  # the shop's own unit is held to the narrower limits


class LooksError(ValueError):
    """Typed looks that are no reading: what is wrong and what to type."""


@dataclass(frozen=True, slots=True)
class ControlLine:
    """One channel on one bottle; values in the channel's unit, span factor [-].

    shown: the looks as typed; settled: None where the display gave only a bound; span_factor and its two parts of u:
    None where the certificate value is zero or nothing settled.
    """

    reference: str
    channel: str
    title: str
    unit: str
    reference_value: float
    shown: list[float | str]
    settled: float | None
    error: float | None
    expanded: float
    limit: float
    statement: str
    span_factor: float | None
    u_certificate: float | None
    u_reading: float | None
    cause: str

    def as_json(self) -> dict[str, Any]:
        """Return the line as it is kept: `U` is the expanded uncertainty, `passed` whether it conforms."""
        return {**asdict(self), "U": self.expanded, "passed": self.statement == "conform"}

    def factor(self) -> SpanFactor | None:
        """Return the span factor with its uncertainty, None where there is none."""
        if self.span_factor is None or self.u_certificate is None or self.u_reading is None:
            return None
        return SpanFactor(self.span_factor, self.u_certificate, self.u_reading, self.reference_value, self.cause)


def control_units() -> list[Analyzer]:
    """Return the shop's own control analyzers."""
    return list(Analyzer.objects.filter(control_unit=True).order_by("serial"))


def channels_for(reference: Reference, profile: Profile) -> list[Channel]:
    """Return the channels of a control analyzer that a bottle speaks to.

    All certified ones in range, and O2 on a gas without it: O2 there shows a leak of regulator or line.
    """
    gas = test_gas_of(reference)
    if gas is None:
        return []
    found = []
    for channel in profile.channels.values():
        part = gas_reference(gas, reference.code, channel) if channel.measures_gas else None
        if part is None or not channel.low <= part.value <= channel.high:
            continue
        if not part.implied or (channel.set_in_air is not None and part.value < 1.0):
            found.append(channel)
    return found


def certificate_says(reference: Reference, channel: Channel) -> str:
    """Return what a bottle's certificate says of a channel, in words."""
    gas = test_gas_of(reference)
    part = gas_reference(gas, reference.code, channel) if gas is not None else None
    if part is None:
        return "not on its certificate"
    if part.implied:
        return f"none in this gas: {channel.title} here shows a leak of regulator or line"
    return f"certificate: {part.value:g} {channel.unit}"


def read_looks(text: str) -> list[float | str]:
    """Return what was typed as looks: numbers, or text as the display showed it (OVER, ----), with spaces between.

    Raises: LooksError.
    """
    looks: list[float | str] = []
    for word in text.replace(";", " ").split():
        try:
            value = float(word)
        except ValueError:
            looks.append(word)
            continue
        if not math.isfinite(value):
            raise LooksError(f"{word!r} is not a number that a display shows.")
        looks.append(value)
    if not looks:
        raise LooksError("Type what the display shows once it stands, such as 498, or 498 499 for two looks.")
    return looks


def control_line(
    analyzer: Analyzer, reference: Reference, channel: Channel, looks: list[float | str], now: datetime
) -> ControlLine:
    """Return one bottle and channel judged on the control analyzer, by the core.

    looks: at the settled display, in the channel's unit.
    Raises: LooksError; NoLimitError where the profile has no limit for the value.
    """
    profile = shipped_profile(analyzer.profile)
    gas = test_gas_of(reference)
    given = gas_reference(gas, reference.code, channel) if gas is not None else None
    if given is None:
        raise LooksError(f"{reference.code} says nothing about {channel.title}.")
    point = _judged(reference, channel, looks, given, profile, now)
    reading_u = math.sqrt(sum(line.u**2 for line in point.budget if line.shared is None))
    number = point.settled if point.caveat is None and math.isfinite(point.settled) else None
    factor = None
    if number is not None and number > 0.0 and given.value > 0.0:
        factor = span_factor(given.value, given.u_certificate, number, reading_u, given.shared)
    return ControlLine(
        reference=reference.code,
        channel=channel.name,
        title=channel.title,
        unit=channel.unit,
        reference_value=given.value,
        shown=looks,
        settled=number,
        error=point.error if math.isfinite(point.error) else None,
        expanded=point.U,
        limit=point.limit,
        statement=point.statement,
        span_factor=factor.value if factor else None,
        u_certificate=factor.u_certificate if factor else None,
        u_reading=factor.u_reading if factor else None,
        cause=given.shared,
    )


def _judged(
    reference: Reference,
    channel: Channel,
    looks: list[float | str],
    given: ReferenceValue,
    profile: Profile,
    now: datetime,
) -> PointJudgement:
    try:
        reading = Reading(channel=channel.name, unit=channel.unit, step=channel.step, shown=tuple(looks))
        settled, displayed = settled_reading(reading, channel, gas_on_s=None, hold_s=profile.hold_s, prior=None)
    except ValidationError as error:
        raise LooksError(str(error.errors()[0]["msg"])) from None
    except ReadingsError as error:
        raise LooksError(str(error)) from None
    measured = Measured(
        step=reference.code,
        at=now,
        phase=PHASE,
        kind="test-gas",
        channel=channel.name,
        unit=channel.unit,
        feed="instrument",
        probe=None,
        of=None,
        application=1,
        pinched=False,
        settled=settled,
        reference=given,
        displayed_at_hold=displayed,
    )
    return judged_point(PointGroup((measured,)), profile, decision_rule("simple"), EMPTY_BUNDLE)
