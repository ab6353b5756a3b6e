"""Steps on gas: test gas, room air, and the swap of probes."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from flueproof.bench.record.steps.step import GasFeed, GasPath, MeasuringStep
from flueproof.bench.record.values.entry import Count, Name, NotNegative, fault
from flueproof.bench.record.values.readings import Reading, readings_once_per_channel


class _OnGas(MeasuringStep):
    """A step with a test gas on the gas path."""

    reference: Name
    """Id of the test gas, one of the keys of references."""
    path: GasPath
    """Where the gas goes in, and through whose probe."""
    application: Count = 1
    """Which application of this gas it is, counted from 1: off to off is one."""
    feed: GasFeed | None = None
    """How the gas was offered."""
    gas_on_s: NotNegative | None = None
    """Seconds from the step's start to opening the gas, 0 or more."""
    readings: Annotated[tuple[Reading, ...], Field(min_length=1)]
    """What the display showed, one reading per channel."""

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        readings_once_per_channel(self.readings)
        last_s = max((reading.t_s[-1] for reading in self.readings if reading.t_s is not None), default=None)
        if self.gas_on_s is not None and last_s is not None and self.gas_on_s > last_s:
            raise fault(
                f"the gas came on at {self.gas_on_s:g} s, after the last look at {last_s:g} s.",
                "Correct gas_on_s, or the times of the looks.",
                ("gas_on_s",),
            )
        return self


class TestGasStep(_OnGas):
    """Test gas on the analyzer."""

    __test__ = False

    kind: Literal["test-gas"]
    """Kind of the step."""


class SwapTestStep(_OnGas):
    """Gas through a swapped probe: `path.probe` shop on this unit, owner on the control analyzer."""

    kind: Literal["swap-test"]
    """Kind of the step."""


class AmbientAirStep(MeasuringStep):
    """Room air through the gas path."""

    kind: Literal["ambient-air"]
    """Kind of the step."""
    path: GasPath | None = None
    """Where the air goes in, and through whose probe."""
    readings: Annotated[tuple[Reading, ...], Field(min_length=1)]
    """What the display showed, one reading per channel."""

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        readings_once_per_channel(self.readings)
        return self
