"""Fields for numbers as they are read off an analyzer: a decimal comma is understood, a true minus sign too."""

from __future__ import annotations

import math
from typing import Any

from django import forms


class DecimalText(forms.Field):
    """A finite number from low to high [unit], typed as text; None where nothing was typed."""

    def __init__(self, *, low: float, high: float, unit: str = "", **options: Any) -> None:
        """Ask tablets for the keyboard with digits."""
        widget = forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off", "size": 7, "maxlength": 24})
        super().__init__(**{"widget": widget, **options})
        self.low, self.high, self.unit = low, high, unit

    def to_python(self, value: Any) -> float | None:
        """Return the number. Raises: ValidationError that says what is allowed."""
        typed = str(value or "").strip()
        if not typed:
            return None
        try:
            number = float(typed.replace(" ", "").replace("\u2212", "-").replace(",", "."))
        except ValueError:
            number = math.nan
        if not math.isfinite(number):
            raise forms.ValidationError(f"“{typed}” is no number; type digits, with a point for decimals.")
        if not self.low <= number <= self.high:
            unit = f" {self.unit}" if self.unit else ""
            raise forms.ValidationError(f"{typed} lies outside {self.low:g} to {self.high:g}{unit}.")
        return number

    def validate(self, value: Any) -> None:
        """Ask for a value where one is needed."""
        if self.required and value is None:
            raise forms.ValidationError("Type a number here.")
