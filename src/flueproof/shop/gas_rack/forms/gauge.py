"""The reading of a cylinder's gauge."""

from __future__ import annotations

import math
from typing import Any

from django import forms

from flueproof.analyzer.units import to_core
from flueproof.shop.frame.forms.pressure import PressureField, gauge_unit
from flueproof.shop.frame.presenters.amounts import SIGNS, temperature_unit
from flueproof.testgas.cylinder import FREE_C
from flueproof.testgas.real_gas import HIGHEST_C, LOWEST_C


class GaugeForm(forms.Form):
    """What the gauge of a cylinder shows, at which temperature."""

    gauge = PressureField(label="Gauge shows")
    room = forms.FloatField(label="Cylinder's temperature")

    def __init__(self, *args: Any, shop: Any, person: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        unit, self.temperature = gauge_unit(shop), temperature_unit(person)
        field: Any = self.fields["gauge"]
        field.unit = unit
        field.help_text = f"In {unit}, or with its unit: 2000 psi, 13800 kPa, 138 bar."
        room = self.fields["room"]
        sign = SIGNS[self.temperature]
        room.label = f"Cylinder's temperature, {sign}"
        room.help_text = "The room's, once the cylinder has stood in it for some hours."
        room.initial = 70 if self.temperature == "degF" else FREE_C

    def clean_room(self) -> float:
        """Return the temperature [degC]."""
        typed = float(self.cleaned_data["room"])
        celsius = to_core(typed, self.temperature, "temperature")
        if not (math.isfinite(celsius) and LOWEST_C <= celsius <= HIGHEST_C):
            raise forms.ValidationError("That cannot be the temperature of a cylinder in a room. Look again.")
        return celsius
