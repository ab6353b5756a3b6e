"""What the analyzer is compared with: test gas, thermometer, manometer, flow meter."""

from typing import Annotated, Literal, Self

from pydantic import ConfigDict, Field, model_validator
from pydantic.config import JsonDict

from flueproof.bench.record.values.entry import Entry, Name, NotNegative, Positive, fault
from flueproof.bench.record.values.moments import Day
from flueproof.bench.record.values.quantities import (
    ConcentrationUnit,
    FlowUnit,
    Gas,
    PressureUnit,
    TemperatureUnit,
)

_PPM_PER_PERCENT = 1e4
_IMPOSSIBLE = 1e6  # in any unit of temperature, pressure or flow; own rule
_EITHER_UNCERTAINTY: JsonDict = {
    "oneOf": [
        {
            "required": ["expanded_uncertainty", "k"],
            "properties": {
                "expanded_uncertainty": {"type": "number"},
                "k": {"type": "number"},
                "stated_accuracy_pct": {"type": "null"},
            },
        },
        {
            "required": ["stated_accuracy_pct"],
            "properties": {
                "expanded_uncertainty": {"type": "null"},
                "k": {"type": "null"},
                "stated_accuracy_pct": {"type": "number"},
            },
        },
    ]
}


class Component(Entry):
    """One certified component of a test gas, with its uncertainty in one of the two ways a certificate states it."""

    model_config = ConfigDict(json_schema_extra=_EITHER_UNCERTAINTY)

    unit: ConcentrationUnit
    """Unit of the concentration: % or ppm (by amount)."""
    value: NotNegative
    """Certified concentration, in its unit, 0 or more."""
    expanded_uncertainty: Positive | None = None
    """Expanded uncertainty from the certificate, in the component's unit, above 0."""
    k: Positive | None = None
    """Coverage factor of the expanded uncertainty, mostly 2."""
    stated_accuracy_pct: Positive | None = None
    """Accuracy the supplier states, in % of the value, above 0."""

    @model_validator(mode="after")
    def _one_statement_of_uncertainty(self) -> Self:
        if self.expanded_uncertainty is None and self.stated_accuracy_pct is None:
            raise fault(
                "the component has no uncertainty.",
                "Copy expanded_uncertainty and k from the certificate, or stated_accuracy_pct.",
            )
        if self.expanded_uncertainty is not None and self.stated_accuracy_pct is not None:
            raise fault(
                "the component has both expanded_uncertainty and stated_accuracy_pct.",
                "Keep the one that the certificate states.",
            )
        if self.expanded_uncertainty is not None and self.k is None:
            raise fault(
                "the expanded uncertainty stands without its coverage factor k.",
                "Add k from the certificate (mostly 2).",
                ("k",),
            )
        if self.stated_accuracy_pct is not None and self.k is not None:
            raise fault(
                "k stands beside stated_accuracy_pct, where it has no meaning.",
                "Remove k, or give expanded_uncertainty instead.",
                ("k",),
            )
        return self

    @model_validator(mode="after")
    def _possible(self) -> Self:
        if self.stated_accuracy_pct is not None and (self.value == 0 or self.stated_accuracy_pct >= 100):
            raise fault(
                f"an accuracy of {self.stated_accuracy_pct:g} % of {self.value:g} {self.unit} says nothing.",
                "Give expanded_uncertainty and k, or correct the number.",
                ("stated_accuracy_pct",),
            )
        if self.expanded_uncertainty is not None and self.k is not None:
            u = self.expanded_uncertainty / self.k
            if (u if self.unit == "%" else u / _PPM_PER_PERCENT) > 100:
                raise fault(
                    f"a standard uncertainty of {u:g} {self.unit} is more than the whole gas.",
                    "Correct expanded_uncertainty, k or the unit.",
                    ("expanded_uncertainty",),
                )
        if self.percent > 100:
            raise fault(
                f"{self.value:g} {self.unit} is more than the whole gas.", "Correct the value or its unit.", ("value",)
            )
        return self

    @property
    def percent(self) -> float:
        """The certified concentration [%].

        Source: common practice, no source.
        """
        return self.value if self.unit == "%" else self.value / _PPM_PER_PERCENT


class TestGas(Entry):
    """A certified mixture in a cylinder."""

    __test__ = False

    kind: Literal["test-gas"]
    """What the reference is."""
    supplier: Name | None = None
    """Who filled and certified it."""
    number: Name | None = None
    """Number on the cylinder."""
    lot: Name | None = None
    """Lot of the filling."""
    certificate: Name
    """Number of the certificate."""
    balance: Name
    """The gas that makes up the rest: nitrogen, air ..."""
    components: Annotated[dict[Gas, Component], Field(min_length=1)]
    """The certified components by gas: o2, co, no, no2, so2, co2, h2; a zero gas names the component with value 0."""
    certified: Day
    """Date of the certificate."""
    expires: Day
    """Last day on which the certificate holds."""

    @model_validator(mode="after")
    def _expires_after_certified(self) -> Self:
        if self.expires < self.certified:
            raise fault(
                f"the gas expired on {self.expires} before it was certified on {self.certified}.",
                "Copy both dates from the certificate.",
                ("expires",),
            )
        return self

    @model_validator(mode="after")
    def _fits_into_the_cylinder(self) -> Self:
        total_pct = sum(component.percent for component in self.components.values())
        if total_pct > 100 * (1 + 1e-9):
            raise fault(
                f"the components add up to {total_pct:g} % of the gas.", "Correct a value or its unit.", ("components",)
            )
        return self


class _Instrument(Entry):
    """A reference instrument with a certificate; the unit is fixed by the subclasses."""

    certificate: Name
    """Number of the certificate."""
    expanded_uncertainty: Positive
    """Expanded uncertainty from the certificate, in the reference's unit, above 0."""
    k: Positive
    """Coverage factor of the expanded uncertainty, mostly 2."""
    due: Day
    """Day by which it must be calibrated again."""

    @model_validator(mode="after")
    def _possible(self) -> Self:
        if self.expanded_uncertainty / self.k > _IMPOSSIBLE:
            raise fault(
                f"a standard uncertainty of {self.expanded_uncertainty / self.k:g} is that of no instrument.",
                "Correct expanded_uncertainty or k.",
                ("expanded_uncertainty",),
            )
        return self


class Thermometer(_Instrument):
    """A reference thermometer with its source of heat."""

    kind: Literal["thermometer"]
    """What the reference is."""
    unit: TemperatureUnit
    """Unit of the uncertainties (as a difference): degC, degF or K."""
    source_u: NotNegative | None = None
    """Standard uncertainty from the source of heat (evenness, stability), in the reference's unit."""


class Manometer(_Instrument):
    """A reference manometer."""

    kind: Literal["manometer"]
    """What the reference is."""
    unit: PressureUnit
    """Unit of the uncertainty: Pa, hPa, kPa, mbar, inH2O, mmH2O, inHg, mmHg or psi."""


class FlowMeter(_Instrument):
    """A reference flow meter."""

    kind: Literal["flow-meter"]
    """What the reference is."""
    unit: FlowUnit
    """Unit of the uncertainty: l/min."""


Reference = Annotated[TestGas | Thermometer | Manometer | FlowMeter, Field(discriminator="kind")]
REFERENCE_CLASSES = (TestGas, Thermometer, Manometer, FlowMeter)
