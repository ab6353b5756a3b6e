"""Gauge pressures as people read them: a number with its unit."""

from __future__ import annotations

import math
import re
from typing import Any, Final

from django import forms

from flueproof.testgas.real_gas import HIGHEST_KPA

# 1 psi = 6.894757 kPa: NIST SP 811, Appendix B.8; 1 bar = 100 kPa, the same.
_KPA: Final = {"kpa": 1.0, "mpa": 1000.0, "psi": 6.894757293168, "psig": 6.894757293168, "bar": 100.0}
_TYPED: Final = re.compile(r"([0-9][0-9 ,]*(?:\.[0-9]+)?)\s*([a-z]*)", re.IGNORECASE)
_WITH_COMMAS: Final = re.compile(r"\d{1,3}([, ]\d{3})+(\.\d+)?")


def gauge_unit(shop: Any) -> str:
    """Return the unit in which this shop's gauges are read: `psi` or `kPa`."""
    return "psi" if shop.paper_units == "us" else "kPa"


def gauge_text(kpa: float | None, shop: Any) -> str:
    """Return a gauge pressure in the shop's unit, "" when there is none."""
    if kpa is None:
        return ""
    unit = gauge_unit(shop)
    return f"{kpa / _KPA[unit.lower()]:,.0f} {unit}"


class PressureField(forms.CharField):
    """A pressure with its unit, such as 2,000 psi or 13.8 MPa; cleaned to kPa. A bare number is in the shop's unit."""

    def __init__(self, *, unit: str = "kPa", **options: Any) -> None:
        super().__init__(max_length=24, **options)
        self.unit = unit

    def prepare_value(self, value: Any) -> Any:
        """Show a stored value [kPa] with its unit, as it is kept, so that nothing changes by itself."""
        if not isinstance(value, int | float):
            return value
        short = f"{value:.10g}"
        return f"{short if float(short) == value else repr(value)} kPa"

    def to_python(self, value: Any) -> Any:
        """Return the pressure [kPa], None when nothing was typed."""
        if isinstance(value, int | float) and not isinstance(value, bool):
            value = f"{value} kPa"  # a program's number, in the unit of the field's name
        text = str(value or "").strip()
        if not text:
            return None
        found = _TYPED.fullmatch(text)
        unit = (found.group(2) or self.unit).lower() if found else ""
        number = found.group(1).strip() if found else ""
        if "," in number or " " in number:
            number = re.sub("[, ]", "", number) if _WITH_COMMAS.fullmatch(number) else ""
        if not number or unit not in _KPA:
            raise forms.ValidationError(f"Type the pressure as a number with its unit, such as 2000 psi; not {text!r}.")
        kpa = float(number) * _KPA[unit]
        if not (math.isfinite(kpa) and kpa <= HIGHEST_KPA):
            raise forms.ValidationError(f"{text} is more than {HIGHEST_KPA:,.0f} kPa. Read the gauge and unit again.")
        return kpa if unit == "kpa" else round(kpa, 1)  # finer than any gauge

    def run_validators(self, value: Any) -> None:
        """Check nothing more: the value is a number by now."""

    def validate(self, value: Any) -> None:
        """Ask for a value where one is needed."""
        if self.required and value is None:
            raise forms.ValidationError(self.error_messages["required"], code="required")
