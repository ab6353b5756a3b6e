"""Fields for what is read off a display: numbers with comma or point, text such as OVER, units and display steps."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any, Final

from django import forms

from flueproof.analyzer.errors import UnitError
from flueproof.analyzer.profile import Channel
from flueproof.analyzer.units import difference_from_core, units_of
from flueproof.papers.content.display import unit_sign
from flueproof.readings.errors import ShownError
from flueproof.readings.shown import text_as_shown
from flueproof.shop.records.models import Person

_LONGEST = 60
_HPA_PER_INHG: Final = 33.86388  # conventional inch of mercury: NIST SP 811, Appendix B.8
_INCHES: Final = (14.0, 33.0)
_KPA: Final = (48.0, 111.0)


class NumberField(forms.Field):
    """A finite number; a decimal comma is understood."""

    def __init__(self, **kwargs: Any) -> None:
        """Ask tablets for the keyboard with digits."""
        widget = forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off", "size": 8, "maxlength": 24})
        super().__init__(**{"widget": widget, **kwargs})

    def to_python(self, value: Any) -> Any:
        """Return the number, None where nothing was typed. Raises: ValidationError."""
        text = str(value or "").strip()[:_LONGEST]
        if not text:
            return None
        try:
            number = float(text.replace(" ", "").replace("\u2212", "-").replace(",", "."))
        except ValueError:
            number = math.nan
        if not math.isfinite(number):
            raise forms.ValidationError(f"“{text}” is no number; type digits, with a point for decimals.")
        return int(number) if number.is_integer() and abs(number) < 1e15 else number


class BarometerField(NumberField):
    """The air's pressure [hPa]; inches of mercury and kPa are known by their size, since no bench is elsewhere."""

    def to_python(self, value: Any) -> Any:
        """Return the pressure [hPa], None where nothing was typed. Raises: ValidationError."""
        typed = super().to_python(value)
        if typed is None:
            return None
        if _INCHES[0] <= typed <= _INCHES[1]:
            return round(typed * _HPA_PER_INHG, 1)
        if _KPA[0] <= typed <= _KPA[1]:
            return round(typed * 10.0, 1)
        return typed


class ShownField(forms.Field):
    """What a display showed: a number, or a text such as OVER or ----, kept as text."""

    def __init__(self, **kwargs: Any) -> None:
        """Take everything a display can show."""
        widget = forms.TextInput(
            attrs={"class": "shown", "autocomplete": "off", "autocapitalize": "characters", "size": 8}
        )
        super().__init__(**{"widget": widget, **kwargs})

    def to_python(self, value: Any) -> Any:
        """Return number or text, None where nothing was typed. Raises: ValidationError."""
        text = str(value or "").strip()[:_LONGEST]
        if not text:
            return None
        try:
            number, bound = text_as_shown(text.replace("\u2212", "-"))
        except ShownError as error:
            raise forms.ValidationError(str(error)) from None
        if bound is not None:
            return text
        return int(number) if number.is_integer() and abs(number) < 1e15 else number


def unit_choices(channel: Channel) -> list[tuple[str, str]]:
    """Return the units that a channel's display may show, with their signs; the core's own where no other fits."""
    try:
        units: Iterable[str] = units_of(channel.unit)
    except UnitError:
        units = (channel.unit,)
    return [(unit, unit_sign(unit)) for unit in units if not unit.startswith("inH2O-")]


def preferred_unit(channel: Channel, person: Person) -> str:
    """Return the unit that a person has chosen for a channel's quantity."""
    return {"degC": person.temperature_unit, "Pa": person.pressure_unit}.get(channel.unit, channel.unit)


def display_step(channel: Channel, unit: str) -> str:
    """Return the display step of a channel in a unit as text: the profile's own, else the nearest power of ten.

    A display in degF or inH2O has its own round step; the profile knows only that of its core unit.
    Source: common practice, no source.
    """
    if unit == channel.unit:
        return f"{channel.step:g}"
    step = difference_from_core(channel.step, unit, channel.unit)
    return f"{10.0 ** round(math.log10(step)):g}"


def steps_by_unit(channel: Channel) -> str:
    """Return "degC=1 degF=1": what the page fills in when another unit is chosen."""
    return " ".join(f"{unit}={display_step(channel, unit)}" for unit, _ in unit_choices(channel))
