"""What a display showed, with its times."""

import math
import operator
import re
from collections.abc import Sequence
from itertools import islice
from typing import Annotated, Any, Self

from pydantic import PlainSerializer, PlainValidator, WithJsonSchema, model_validator

from flueproof.bench.record.values.entry import Entry, Name, Positive, fault
from flueproof.bench.record.values.quantities import FlowUnit, PressureUnit, TemperatureUnit, Unit

LONGEST_SHOWN_TEXT = 40
_QUOTED_NUMBER = re.compile(r"[+-]?((\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d+)?|nan|inf|infinity)", re.IGNORECASE)
_NUMBER_TYPES = {int, float}


def _listed(given: Any, what: str) -> Sequence[Any]:
    if not isinstance(given, list | tuple):
        raise fault(f"{what} is a list, not {_kind_of(given)}.", "Put the values in square brackets, a single one too.")
    if not given:
        raise fault(f"{what} is an empty list.", "Enter at least one look at the display, or leave the step out.")
    return given


def _kind_of(given: Any) -> str:
    names = {"dict": "an object", "str": "a text", "NoneType": "null", "bool": "true or false"}
    return names.get(type(given).__name__, "a number")


def _all_finite_numbers(values: Sequence[Any]) -> bool:
    """Tell at the speed of C whether all values are finite numbers (an overflow of the sum says no: look closer)."""
    if not set(map(type, values)) <= _NUMBER_TYPES:
        return False
    try:
        return math.isfinite(sum(map(float, values)))
    except OverflowError:
        return False


def _finite_number(value: Any, index: int, remedy: str) -> None:
    if type(value) not in _NUMBER_TYPES:
        raise fault(f"{_kind_of(value)} stands where a number must stand.", remedy, (index,))
    try:
        finite = math.isfinite(float(value))
    except OverflowError:
        finite = False
    if not finite:
        raise fault("the number is not finite (NaN, Infinity or too large).", remedy, (index,))


def _shown(given: Any) -> tuple[float | str, ...]:
    values = tuple(_listed(given, "shown"))
    if not _all_finite_numbers(values):
        for index, value in enumerate(values):
            if type(value) is str:
                _shown_text(value, index)
            else:
                _finite_number(value, index, 'Write the number shown, or the text shown in quotes ("OVER", "----").')
    return values


def _shown_text(text: str, index: int) -> None:
    if not text.strip() or len(text) > LONGEST_SHOWN_TEXT or not text.isprintable():
        raise fault(
            f"a shown text has 1 to {LONGEST_SHOWN_TEXT} printable characters.",
            'Write what the display showed, "----" for a blank one.',
            (index,),
        )
    if _QUOTED_NUMBER.fullmatch(text.strip()):
        raise fault(f"{text!r} is a number in quotes.", "Write numbers without quotes, with a decimal point.", (index,))


def _times(given: Any) -> tuple[float, ...]:
    times = tuple(_listed(given, "t_s"))
    if not _all_finite_numbers(times):
        for index, time_s in enumerate(times):
            _finite_number(time_s, index, "Write the seconds from the step's start, like 30.")
    if times[0] < 0:
        raise fault(
            f"the time {times[0]:g} s lies before the step's start.", "Count seconds from the step's start.", (0,)
        )
    if not all(map(operator.le, times, islice(times, 1, None))):
        index = next(i for i in range(1, len(times)) if times[i] < times[i - 1])
        raise fault(
            f"the time goes back from {times[index - 1]:g} s to {times[index]:g} s.",
            "Enter the looks in the order in which they were taken.",
            (index,),
        )
    return times


def _as_list(values: Sequence[Any] | None) -> list[Any] | None:
    return None if values is None else list(values)


Shown = Annotated[
    tuple[float | str, ...],
    PlainValidator(_shown),
    PlainSerializer(_as_list, when_used="json"),
    WithJsonSchema(
        {
            "type": "array",
            "minItems": 1,
            "items": {
                "anyOf": [{"type": "number"}, {"type": "string", "minLength": 1, "maxLength": LONGEST_SHOWN_TEXT}]
            },
        }
    ),
]
Times = Annotated[
    tuple[float, ...],
    PlainValidator(_times),
    PlainSerializer(_as_list, when_used="json"),
    WithJsonSchema({"type": "array", "minItems": 1, "items": {"type": "number", "minimum": 0}}),
]


class _Looks(Entry):
    """One channel of the display during one step; the unit is fixed by the subclasses."""

    channel: Name
    """Channel of the analyzer that was read: o2, co, stack, draft ..."""
    step: Positive
    """Display step: the smallest change that the display can show, in the reading's unit, above 0."""
    t_s: Times | None = None
    """Seconds from the step's start, one per look, never going back; left out for looks at a settled display."""
    shown: Shown
    """What the display showed at each look: a number, or the text it showed."""

    @model_validator(mode="after")
    def _one_time_per_look(self) -> Self:
        if self.t_s is not None and len(self.t_s) != len(self.shown):
            raise fault(
                f"{len(self.t_s)} times stand beside {len(self.shown)} shown values.",
                "Give one time per shown value.",
                ("t_s",),
            )
        return self


class Reading(_Looks):
    """Looks at one channel, in any unit that can be converted."""

    unit: Unit
    """Unit on the display."""


class TemperatureReading(_Looks):
    """Looks at a temperature channel."""

    unit: TemperatureUnit
    """Unit on the display: degC, degF or K."""


class PressureReading(_Looks):
    """Looks at a pressure channel."""

    unit: PressureUnit
    """Unit on the display: Pa, hPa, kPa, mbar, inH2O, mmH2O, inHg, mmHg or psi."""


class FlowReading(_Looks):
    """Looks at a flow channel."""

    unit: FlowUnit
    """Unit on the display: l/min."""


class ComputedReading(_Looks):
    """Looks at a value that the analyzer computed itself; kept as shown, never converted."""

    unit: Name
    """Unit on the display, as shown; 1 where the value has none."""


AnyReading = Reading | TemperatureReading | PressureReading | FlowReading | ComputedReading


def readings_once_per_channel(readings: Sequence[_Looks]) -> None:
    """Refuse two readings of one channel in one step.

    Raises: a pydantic error at the second reading.
    Source: common practice, no source.
    """
    seen: set[str] = set()
    for index, reading in enumerate(readings):
        if reading.channel in seen:
            raise fault(
                f"channel {reading.channel!r} is read twice in one step.",
                "Put all looks at one application into one reading; a second application is a step of its own.",
                ("readings", index, "channel"),
            )
        seen.add(reading.channel)
