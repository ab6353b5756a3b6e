"""Steps about the state of room and analyzer: room, zeroing, settings, visual."""

import math
from typing import Annotated, Any, Literal, Self

from pydantic import Field, PlainValidator, WithJsonSchema, model_validator

from flueproof.bench.record.steps.step import Step
from flueproof.bench.record.values.entry import Name, NotNegative, Percentage, Text, fault
from flueproof.bench.record.values.quantities import PossibleTemperature


def _setting(given: Any) -> str | float | bool:
    if isinstance(given, bool | str) or (isinstance(given, int | float) and math.isfinite(given)):
        return given
    raise fault("a setting is a text, a finite number, true or false.", "Write what the display shows for it.")


Setting = Annotated[
    str | float | bool,
    PlainValidator(_setting),
    WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "number"}, {"type": "boolean"}]}),
]


class RoomStep(Step):
    """The air at the bench."""

    kind: Literal["room"]
    """Kind of the step."""
    air: PossibleTemperature | None = None
    """Temperature of the room's air."""
    humidity_pct: Percentage | None = None
    """Relative humidity in %, 0 to 100."""
    pressure_hpa: Annotated[float, Field(strict=True, allow_inf_nan=False, ge=500, le=1100)] | None = None
    """Absolute air pressure at the bench in hPa (not reduced to sea level), 500 to 1100."""
    room_co_ppm: NotNegative | None = None
    """CO in the room in ppm from the bench's own monitor, 0 or more."""

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if self.air is None and self.humidity_pct is None and self.pressure_hpa is None and self.room_co_ppm is None:
            raise fault(
                "the room step says nothing about the room.",
                "Enter air, humidity_pct, pressure_hpa or room_co_ppm, or leave the step out.",
            )
        return self


class ZeroingStep(Step):
    """Switch-on: the analyzer zeroes itself in the air that it gets; `at` is the moment of switching on."""

    kind: Literal["zeroing"]
    """Kind of the step."""
    where: Name
    """Where the analyzer drew its air: bench, outdoors ..."""
    probe: Literal["on", "off"] | None = None
    """Whether the probe assembly was connected: on or off."""


class SettingsStep(Step):
    """Settings of the analyzer, as found and as changed, by the name on its display."""

    kind: Literal["settings"]
    """Kind of the step."""
    as_found: dict[Name, Setting] = Field(default_factory=dict)
    """Settings as found, by name."""
    changed: dict[Name, Setting] = Field(default_factory=dict)
    """Settings that were changed, by name, with their new value."""

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if not self.as_found and not self.changed:
            raise fault("the settings step names no setting.", "Enter as_found or changed, or leave the step out.")
        return self


class VisualStep(Step):
    """What was seen on looking the analyzer over."""

    kind: Literal["visual"]
    """Kind of the step."""
    text: Text
    """What was seen, in words."""
