"""Steps on temperature, pressure and flow against an instrument, and values that the analyzer computed."""

from collections.abc import Sequence
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from flueproof.bench.record.steps.step import GasPath, MeasuringStep
from flueproof.bench.record.values.entry import Name, fault
from flueproof.bench.record.values.quantities import Flow, PossibleTemperature, Pressure
from flueproof.bench.record.values.readings import (
    AnyReading,
    ComputedReading,
    FlowReading,
    PressureReading,
    TemperatureReading,
    readings_once_per_channel,
)


def _channel_was_read(channel: str, readings: Sequence[AnyReading]) -> None:
    readings_once_per_channel(readings)
    read = [reading.channel for reading in readings]
    if channel not in read:
        raise fault(
            f"the step is about channel {channel!r}, but {', '.join(map(repr, read))} was read.",
            "Name the same channel in the step and in its reading.",
            ("channel",),
        )


class TemperatureStep(MeasuringStep):
    """A temperature channel against a thermometer."""

    kind: Literal["temperature"]
    """Kind of the step."""
    channel: Name
    """Channel of the analyzer that is tested: stack, air ..."""
    of: Literal["probe", "socket", "air-sensor"]
    """What was tested: probe, socket or air-sensor."""
    reference: Name
    """Id of the thermometer, one of the keys of references."""
    reference_value: PossibleTemperature
    """What the thermometer says."""
    readings: Annotated[tuple[TemperatureReading, ...], Field(min_length=1)]
    """What the display showed, one reading per channel."""

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        _channel_was_read(self.channel, self.readings)
        return self


class PressureStep(MeasuringStep):
    """A pressure channel against a manometer."""

    kind: Literal["pressure"]
    """Kind of the step."""
    channel: Name
    """Channel of the analyzer that is tested: draft ..."""
    reference: Name
    """Id of the manometer, one of the keys of references."""
    reference_value: Pressure
    """What the manometer says."""
    readings: Annotated[tuple[PressureReading, ...], Field(min_length=1)]
    """What the display showed, one reading per channel."""

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        _channel_was_read(self.channel, self.readings)
        return self


class FlowStep(MeasuringStep):
    """The flow of the pump against a flow meter; readings only where the analyzer shows its flow."""

    kind: Literal["flow"]
    """Kind of the step."""
    path: GasPath | None = None
    """Where the flow meter was put on, and through whose probe."""
    reference: Name
    """Id of the flow meter, one of the keys of references."""
    reference_value: Flow
    """What the flow meter says."""
    readings: tuple[FlowReading, ...] = ()
    """What the display showed, one reading per channel."""

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        readings_once_per_channel(self.readings)
        return self


class DisplayedStep(MeasuringStep):
    """Values that the analyzer computed itself."""

    kind: Literal["displayed"]
    """Kind of the step."""
    readings: Annotated[tuple[ComputedReading, ...], Field(min_length=1)]
    """What the display showed, one reading per computed value."""

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        readings_once_per_channel(self.readings)
        return self
