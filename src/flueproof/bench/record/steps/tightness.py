"""Steps that ask whether the gas path is tight: plug, bulb, vacuum hold."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from flueproof.bench.record.steps.step import GasPath, MeasuringStep
from flueproof.bench.record.values.entry import Flag, Positive, fault
from flueproof.bench.record.values.readings import PressureReading, readings_once_per_channel


class PlugTestStep(MeasuringStep):
    """The inlet closed with a plug or a finger while the pump runs."""

    kind: Literal["plug-test"]
    """Kind of the step."""
    path: GasPath
    """Where the path was closed, and through whose probe."""
    pump: Literal["stalls", "slows", "runs-on", "alarm"]
    """What the pump did: stalls, slows, runs-on or alarm."""
    hiss_after_10_s: Flag | None = None
    """Whether air was heard rushing in on opening after 10 s: true or false."""


class BulbTestStep(MeasuringStep):
    """A squeezed rubber bulb on the path."""

    kind: Literal["bulb-test"]
    """Kind of the step."""
    path: GasPath
    """Where the bulb was put on, and through whose probe."""
    stays_flat: Flag
    """Whether the squeezed bulb stayed flat: true or false."""


class VacuumHoldStep(MeasuringStep):
    """A vacuum on the path, and how it holds."""

    kind: Literal["vacuum-hold"]
    """Kind of the step."""
    path: GasPath
    """Where the vacuum was drawn, and through whose probe."""
    exhaust_capped: Flag | None = None
    """Whether the exhaust was closed: true or false."""
    volume_ml: Positive | None = None
    """Volume of the path under vacuum in ml, above 0, or null."""
    readings: Annotated[tuple[PressureReading, ...], Field(min_length=1)]
    """What the gauge showed, with times."""

    @model_validator(mode="after")
    def _timed(self) -> Self:
        readings_once_per_channel(self.readings)
        for index, reading in enumerate(self.readings):
            if reading.t_s is None or len(reading.t_s) < 2:
                raise fault(
                    "a vacuum hold needs at least two looks with their times.",
                    "Add t_s, like [0, 10, 20, 30], and what was shown at each.",
                    ("readings", index, "t_s"),
                )
        return self
