"""Fields for numbers as they are read off an analyzer: a decimal comma is understood, a true minus sign too."""

from __future__ import annotations

import math
from typing import Any

from django import forms

from flueproof.analyzer.units import from_core, to_core

SIGNS = {"degF": "\N{DEGREE SIGN}F", "degC": "\N{DEGREE SIGN}C"}


def number_typed(text: str) -> float:
    """Return the number that was typed, nan where it is none."""
    try:
        value = float(text.replace(" ", "").replace("\N{MINUS SIGN}", "-").replace(",", "."))
    except ValueError:
        return math.nan
    return value if math.isfinite(value) else math.nan


class NumberText(forms.CharField):
    """A finite number from low to high [unit], typed as text; None where nothing was typed.

    A temperature is typed in the person's unit and leaves in degC.
    """

    def __init__(self, *, low: float, high: float, unit: str = "", **options: Any) -> None:
        """Ask tablets for the keyboard with digits."""
        widget = forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off", "size": 7, "maxlength": 24})
        super().__init__(**{"widget": widget, **options})
        self.low, self.high, self.unit = low, high, unit

    def clean(self, value: Any) -> Any:
        """Return the number. Raises: ValidationError that says what is allowed."""
        typed = str(value or "").strip()
        if not typed:
            if self.required:
                raise forms.ValidationError("Type a number here.")
            return None
        number = number_typed(typed)
        if math.isnan(number):
            raise forms.ValidationError(f"“{typed}” is no number; type digits, with a point for decimals.")
        heat = self.unit in SIGNS
        given = float(to_core(number, self.unit, "temperature")) if heat else number
        if not self.low <= given <= self.high:
            ends = [float(from_core(end, self.unit, "temperature")) if heat else end for end in (self.low, self.high)]
            sign = SIGNS.get(self.unit, self.unit)
            raise forms.ValidationError(f"{typed} lies outside {ends[0]:g} to {ends[1]:g} {sign}.".replace(" .", "."))
        return given
