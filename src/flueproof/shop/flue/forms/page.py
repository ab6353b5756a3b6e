"""What is asked on the flue page; the address carries it all, so that a link shows the same to everybody."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from django import forms

from flueproof.analyzer.units import difference_from_core, difference_to_core, from_core, to_core
from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.shop.flue.assumed import assumed
from flueproof.shop.flue.faults import Sizes
from flueproof.shop.flue.forms.numbers import DecimalText
from flueproof.shop.flue.reading import FlueReading

UNITS: Final = ("degF", "degC")
METERS_PER_FOOT: Final = 0.3048  # exact: NIST SP 811, B.6
HEIGHT_UNITS: Final = {"degF": "ft", "degC": "m"}
SIGNS: Final = {"degF": "°F", "degC": "°C"}
EXAMPLE_C: Final = {"stack": 200.0, "air": 20.0}
EXAMPLE: Final = {"fuel": "natural-gas-us", "o2": "5.0", "co": "100", "reference_o2": "3"}
_RANGES_C: Final = {"stack": (-20.0, 1400.0), "air": (-50.0, 60.0)}
_HEIGHTS_M: Final = (-500.0, 5000.0)
_MOST_K: Final = 100.0
SURE: Final = (("u_o2", "o2"), ("u_co", "co"), ("u_stack", "stack"), ("u_air", "air"))


def unit_asked(given: Mapping[str, str], preferred: str) -> str:
    """Return the unit of temperatures: that of the address, else the person's."""
    asked = given.get("unit", "")
    return asked if asked in UNITS else preferred


def with_example(given: Mapping[str, str], unit: str) -> dict[str, str]:
    """Return what was asked, the example where the address says nothing of a field; an empty field stays empty."""
    example = {**EXAMPLE, **{name: f"{from_core(value, unit, 'temperature'):g}" for name, value in EXAMPLE_C.items()}}
    return {**example, **dict(given.items()), "unit": unit}


class FlueForm(forms.Form):
    """One reading, each value with how sure it is; what is left empty of that is assumed and said so."""

    unit = forms.ChoiceField(choices=[(unit, unit) for unit in UNITS], widget=forms.HiddenInput)
    fuel = forms.ChoiceField(label="Fuel")
    o2 = DecimalText(label="O2, dry", low=-0.5, high=20.946, unit="%")
    u_o2 = DecimalText(label="O2 ±", low=0.0, high=10.0, unit="%", required=False)
    stack = DecimalText(label="Stack", low=0.0, high=0.0)
    u_stack = DecimalText(label="Stack ±", low=0.0, high=0.0, required=False)
    air = DecimalText(label="Combustion air", low=0.0, high=0.0)
    u_air = DecimalText(label="Combustion air ±", low=0.0, high=0.0, required=False)
    co = DecimalText(label="CO, dry", low=-50.0, high=100_000.0, unit="ppm", required=False)
    u_co = DecimalText(label="CO ±", low=0.0, high=50_000.0, unit="ppm", required=False)
    reference_o2 = DecimalText(label="CO brought to O2 of", low=0.0, high=17.0, unit="%", required=False)
    leak_share = DecimalText(label="Room air in the sample, up to", low=0.0, high=50.0, unit="%", required=False)
    humidity = DecimalText(label="Humidity of the air", low=0.0, high=100.0, unit="%", required=False)
    altitude = DecimalText(label="Height above the sea", low=0.0, high=0.0, required=False)

    def __init__(self, data: Any = None, *, fuels: Mapping[str, Fuel], unit: str) -> None:
        """Offer the fuels; ranges and units are those of the address."""
        super().__init__(data, auto_id="flue_%s")
        self.fuels, self.chosen_unit = fuels, unit
        self.fields["fuel"].choices = grouped(fuels)  # type: ignore[attr-defined]
        for name, (low, high) in _RANGES_C.items():
            _range(self, name, from_core(low, unit, "temperature"), from_core(high, unit, "temperature"), SIGNS[unit])
            most = difference_from_core(_MOST_K, unit, "temperature")
            _range(self, f"u_{name}", 0.0, most, SIGNS[unit])
        per_meter = METERS_PER_FOOT if unit == "degF" else 1.0
        self.per_meter = per_meter
        lowest, highest = (round(edge / per_meter, -2) for edge in _HEIGHTS_M)
        _range(self, "altitude", lowest, highest, HEIGHT_UNITS[unit])

    def clean(self) -> dict[str, Any]:
        """Refuse a stack that is not hotter than the air: values exchanged, or a sensor missing."""
        given = super().clean() or {}
        stack, air = given.get("stack"), given.get("air")
        if stack is not None and air is not None and stack <= air:
            self.add_error("stack", "The stack is not hotter than the air; look whether the two are exchanged.")
        return given

    def reading(self) -> FlueReading:
        """Return the reading in the core's units."""
        given, unit = self.cleaned_data, self.chosen_unit
        expanded = {
            quantity: (
                difference_to_core(given[name], unit, "temperature") if quantity in EXAMPLE_C else float(given[name])
            )
            for name, quantity in SURE
            if given.get(name) is not None
        }
        height = given.get("altitude")
        return FlueReading(
            self.fuels[given["fuel"]],
            given["o2"],
            to_core(given["stack"], unit, "temperature"),
            to_core(given["air"], unit, "temperature"),
            co_ppm=given.get("co"),
            humidity_pct=given.get("humidity"),
            altitude_m=None if height is None else height * self.per_meter,
            reference_o2_pct=3.0 if given.get("reference_o2") is None else given["reference_o2"],
            expanded=expanded,
            leak_pct=given.get("leak_share") or 0.0,
        )

    def what_is_assumed(self, quantity: str) -> str:
        """Return the uncertainty that stands in for an empty field, in the unit of the page, "" before a value."""
        try:
            number = self.fields[quantity].clean(self.data.get(quantity, ""))
        except forms.ValidationError:
            return ""
        if number is None:
            return ""
        if quantity not in EXAMPLE_C:
            return f"{assumed(quantity, number).expanded:.3g}"
        core = assumed(quantity, to_core(number, self.chosen_unit, "temperature")).expanded
        return f"{difference_from_core(core, self.chosen_unit, 'temperature'):.3g}"


class SizesForm(forms.Form):
    """How large the errors are that are shown side by side."""

    by_o2 = DecimalText(label="O2 channel reads more by", low=-5.0, high=5.0, unit="%", required=False)
    co_low = DecimalText(label="CO gain is low by", low=0.0, high=95.0, unit="%", required=False)
    leak = DecimalText(label="Room air in the sample", low=0.0, high=80.0, unit="%", required=False)
    by_stack = DecimalText(label="Stack reads more by", low=0.0, high=0.0, required=False)
    air_stands = DecimalText(label="Air sensor missing; used is", low=0.0, high=0.0, required=False)

    def __init__(self, data: Any = None, *, unit: str) -> None:
        """Set units and ranges."""
        super().__init__(data, auto_id="flue_%s")
        self.chosen_unit = unit
        most = difference_from_core(_MOST_K, unit, "temperature")
        _range(self, "by_stack", -most, most, SIGNS[unit])
        low, high = (from_core(edge, unit, "temperature") for edge in _RANGES_C["air"])
        _range(self, "air_stands", low, high, SIGNS[unit])

    def sizes(self) -> Sizes:
        """Return the sizes in the core's units, the usual ones where nothing was typed."""
        given, unit, usual = self.cleaned_data, self.chosen_unit, Sizes()
        stack, air = given.get("by_stack"), given.get("air_stands")
        return Sizes(
            _or(given.get("by_o2"), usual.o2_pct),
            _or(given.get("co_low"), usual.co_low_pct),
            _or(given.get("leak"), usual.leak_pct),
            usual.stack_k if stack is None else difference_to_core(stack, unit, "temperature"),
            usual.air_stands_c if air is None else to_core(air, unit, "temperature"),
        )

    def usual(self) -> dict[str, str]:
        """Return what stands in for an empty field, in the unit of the page."""
        usual, unit = Sizes(), self.chosen_unit
        return {
            "by_o2": f"{usual.o2_pct:g}",
            "co_low": f"{usual.co_low_pct:g}",
            "leak": f"{usual.leak_pct:g}",
            "by_stack": f"{difference_from_core(usual.stack_k, unit, 'temperature'):g}",
            "air_stands": f"{from_core(usual.air_stands_c, unit, 'temperature'):g}",
        }


def grouped(fuels: Mapping[str, Fuel]) -> list[tuple[str, list[tuple[str, str]]]]:
    """Return the choices of fuels: shipped ones, then the shop's own where there are any."""
    shipped = [(key, fuel.name) for key, fuel in fuels.items() if not fuel.own]
    own = [(key, fuel.name) for key, fuel in fuels.items() if fuel.own]
    return [("Shipped", shipped), *([("Of the shop", own)] if own else [])]


def unit_of(form: forms.Form, name: str) -> str:
    """Return the unit of one of these fields, "" where it has none."""
    return str(getattr(form.fields[name], "unit", ""))


def _range(form: forms.Form, name: str, low: float, high: float, unit: str) -> None:
    field = form.fields[name]
    assert isinstance(field, DecimalText)  # noqa: S101 -- declared above
    field.low, field.high, field.unit = low, high, unit


def _or(value: float | None, usual: float) -> float:
    return usual if value is None else value
