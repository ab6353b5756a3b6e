"""One reading of the owner's, asked by the address: what was shown, of which fuel, on which day."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping
from typing import Any, Literal, cast

from django import forms

from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.impact.field_log.row import RANGES, FieldRow, LogSettings
from flueproof.shop.impact.forms.numbers import SIGNS, NumberText

METHODS = (("german-net", "net, German form"), ("heat-loss-gross", "gross, heat-loss method"))
EXCESS = (("simple", "simple, O2/(20.9 \N{MINUS SIGN} O2)"), ("exact", "exact, of the fuel"))
AIR_FREE = (("us", "20.9 %, US practice"), ("german", "21 %, German practice"))
LossMethod = Literal["german-net", "heat-loss-gross"]


class ConventionForm(forms.Form):
    """How the owner's analyzer computes; part of every form here."""

    method = forms.ChoiceField(choices=METHODS, required=False, label="Loss and efficiency")
    excess_air = forms.ChoiceField(choices=EXCESS, required=False, label="Excess air")
    air_free = forms.ChoiceField(choices=AIR_FREE, required=False, label="Oxygen of air in CO air-free")

    def convention(self) -> dict[str, Any]:
        """Return the choices as the core takes them."""
        given = self.cleaned_data
        return {
            "method": given.get("method") or "german-net",
            "excess_air": given.get("excess_air") or "simple",
            "air_free": given.get("air_free") or "us",
        }


class ValueForm(ConventionForm):
    """One reading; temperatures in the person's unit."""

    day = forms.DateField(required=False, label="Day of the reading")
    last_good = forms.DateField(required=False, label="Last known good on")
    fuel = forms.ChoiceField(label="Fuel")

    def __init__(self, data: Any, *, fuels: Mapping[str, Fuel], unit: str, last_good: dt.date | None) -> None:
        """Begin with the last good day that the papers say."""
        asked = data if "o2" in data else None
        super().__init__(asked, initial={"fuel": usual_fuel(fuels), "last_good": last_good}, auto_id="value_%s")
        self.fields["fuel"] = forms.ChoiceField(label="Fuel", choices=[(key, one.name) for key, one in fuels.items()])
        for name, key, label in (
            ("o2", "o2_pct", "O2, %"),
            ("co", "co_ppm", "CO, ppm"),
            ("stack", "stack_c", f"Stack, {SIGNS[unit]}"),
            ("air", "air_c", f"Air, {SIGNS[unit]}"),
            ("no", "no_ppm", "NO, ppm"),
        ):
            low, high, core = RANGES[key]
            sign = unit if core == "degC" else core
            self.fields[name] = NumberText(low=low, high=high, unit=sign, required=name == "o2", label=label)
        for name in ("day", "last_good"):
            self.fields[name].widget = forms.DateInput(attrs={"type": "date"})

    def row(self) -> FieldRow:
        """Return the reading as the core takes it."""
        given = self.cleaned_data

        def number(name: str) -> float:
            value = given.get(name)
            return math.nan if value is None else float(value)

        return FieldRow(
            1, given["day"], "", given["fuel"], number("o2"), number("co"), number("stack"), number("air"), number("no")
        )

    @property
    def readings(self) -> list[Any]:
        """The fields of the reading, in the order of the display."""
        return [self[name] for name in ("o2", "co", "stack", "air", "no", "fuel", "day", "last_good")]

    @property
    def conventions(self) -> list[Any]:
        """The fields of the convention."""
        return [self[name] for name in ("method", "excess_air", "air_free")]


def usual_fuel(fuels: Mapping[str, Fuel]) -> str:
    """Return the key of the fuel that stands first in a form: the core's own, natural gas."""
    usual = LogSettings().fuel
    return usual if usual in fuels else next(iter(fuels))


def as_convention(kept: Mapping[str, str]) -> dict[str, Any]:
    """Return a convention that was kept or sent, each choice the first where it is none. It never fails."""
    chosen = {"method": METHODS, "excess_air": EXCESS, "air_free": AIR_FREE}
    return {
        name: cast("Any", kept.get(name) if kept.get(name) in dict(pairs) else pairs[0][0])
        for name, pairs in chosen.items()
    }
