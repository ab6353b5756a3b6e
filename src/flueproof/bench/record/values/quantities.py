"""A value with its unit, and which units each kind of quantity may have."""

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, WithJsonSchema

from flueproof.analyzer.units import units_of
from flueproof.bench.record.values.entry import Entry, Number, fault

Gas = Literal["o2", "co", "no", "no2", "so2", "co2", "h2"]

CONCENTRATION_UNITS = ("%", "ppm")
TEMPERATURE_UNITS = units_of("temperature")
PRESSURE_UNITS = units_of("pressure")
FLOW_UNITS = ("l/min",)
KNOWN_UNITS = (*CONCENTRATION_UNITS, *TEMPERATURE_UNITS, *PRESSURE_UNITS, *FLOW_UNITS)
_COLDEST = {"degC": -273.15, "degF": -459.67, "K": 0.0}


def _unit_of(allowed: tuple[str, ...], what: str) -> tuple[BeforeValidator, WithJsonSchema]:
    def known(given: Any) -> str:
        if not isinstance(given, str) or given not in allowed:
            shown = repr(given[:40]) if isinstance(given, str) else type(given).__name__
            raise fault(
                f"{shown} is no {what} that is known here.",
                f"Write one of {', '.join(allowed)}.",
            )
        return given

    return BeforeValidator(known), WithJsonSchema({"type": "string", "enum": list(allowed)})


_any, _any_schema = _unit_of(KNOWN_UNITS, "unit")
_concentration, _concentration_schema = _unit_of(CONCENTRATION_UNITS, "unit of a concentration")
_temperature, _temperature_schema = _unit_of(TEMPERATURE_UNITS, "unit of temperature")
_pressure, _pressure_schema = _unit_of(PRESSURE_UNITS, "unit of pressure")
_flow, _flow_schema = _unit_of(FLOW_UNITS, "unit of flow")

Unit = Annotated[str, _any, _any_schema]
ConcentrationUnit = Annotated[str, _concentration, _concentration_schema]
TemperatureUnit = Annotated[str, _temperature, _temperature_schema]
PressureUnit = Annotated[str, _pressure, _pressure_schema]
FlowUnit = Annotated[str, _flow, _flow_schema]


class Quantity(Entry):
    """A value in any known unit."""

    unit: Unit
    """Unit of the value."""
    value: Number
    """The value, in its unit."""


class Temperature(Entry):
    """A temperature (no difference of two)."""

    unit: TemperatureUnit
    """Unit of temperature: degC, degF or K."""
    value: Number
    """The temperature, in its unit, above absolute zero."""


class Pressure(Entry):
    """A pressure difference; a draft is negative."""

    unit: PressureUnit
    """Unit of pressure: Pa, hPa, kPa, mbar, inH2O, mmH2O, inHg, mmHg or psi."""
    value: Number
    """The pressure, in its unit; a draft is negative."""


class Flow(Entry):
    """A volume flow."""

    unit: FlowUnit
    """Unit of flow: l/min."""
    value: Number
    """The flow, in its unit."""


def _possible(temperature: Temperature) -> Temperature:
    coldest = _COLDEST[temperature.unit]
    if temperature.value < coldest:
        raise fault(
            f"{temperature.value:g} {temperature.unit} is below absolute zero ({coldest:g} {temperature.unit}).",
            "Correct the value or its unit.",
            ("value",),
        )
    return temperature


PossibleTemperature = Annotated[Temperature, AfterValidator(_possible)]
