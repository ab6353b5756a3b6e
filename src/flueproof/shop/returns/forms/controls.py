"""Controls that the forms of this page share."""

from __future__ import annotations

from typing import Any, Final

from django import forms

# A number that is read by scanner: the scan goes into the field, wherever the focus is.
SCANNED: Final = {"class": "plate", "spellcheck": "false", "autocomplete": "off", "data-scan-into": ""}


def day_input(**attrs: Any) -> forms.DateInput:
    """Return the control for a day; the browser shows it its own way and sends year, month, day."""
    return forms.DateInput(attrs={"type": "date", **attrs}, format="%Y-%m-%d")


def text_area(rows: int = 2) -> forms.Textarea:
    """Return a control for several lines."""
    return forms.Textarea(attrs={"rows": rows})


def money_input() -> forms.TextInput:
    """Return a control for a sum: digits and a point, with a number pad on a tablet."""
    return forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off", "class": "money"})
