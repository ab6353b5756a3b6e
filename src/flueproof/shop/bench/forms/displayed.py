"""All that the display shows at one look: what it read, and what it computed from it."""

from __future__ import annotations

import re
from typing import Any, ClassVar, Final

from django import forms

from flueproof.chemistry.fuels.reading import shipped_fuels
from flueproof.shop.bench.forms.step_form import StepForm
from flueproof.shop.bench.forms.typed import ShownField

UNITS: Final = (("degF", "°F"), ("degC", "°C"))
BASES: Final = (("", "does not say"), ("net", "net (LHV)"), ("gross", "gross (HHV)"))
READ: Final = (("o2", "O2", "%"), ("co", "CO", "ppm"), ("stack", "stack", ""), ("air", "air", ""))
COMPUTED: Final = (
    ("co2", "CO2", "%"),
    ("excess_air", "excess air", "%"),
    ("air_ratio", "lambda", "1"),
    ("loss", "flue loss", "%"),
    ("efficiency", "efficiency", "%"),
    ("co_air_free", "CO air-free", "ppm"),
    ("dew_point", "dew point", ""),
)
"""Field, name in the record, unit; "" for a temperature, in the unit that is chosen."""
_WITH_BASIS: Final = ("loss", "efficiency")
_DIGITS: Final = re.compile(r"[-\u2212+]?\d*(?:[.,](\d*))?")


class DisplayedForm(StepForm):
    """One look at the display; whatever it shows is typed as it stands there, zeros too: they say the display step."""

    kind, title = "displayed", "What the display computes"
    help_text = (
        "One look while the readings stand still, or a stored reading. Type each as shown, zeros too. What is computed "
        "is held against the known formulas; no channel is judged by it."
    )
    places: ClassVar = {"readings": "other"}
    fuel = forms.CharField(
        label="Fuel set, as shown", max_length=40, required=False, widget=forms.TextInput(attrs={"list": "fuels-shown"})
    )
    unit = forms.ChoiceField(label="Temperatures in", choices=UNITS)
    o2 = ShownField(label="O2, %", required=False)
    co = ShownField(label="CO, ppm", required=False)
    stack = ShownField(label="Stack", required=False)
    air = ShownField(label="Combustion air", required=False)
    co2 = ShownField(label="CO2, %", required=False)
    excess_air = ShownField(label="Excess air, %", required=False)
    air_ratio = ShownField(label="Lambda", required=False)
    loss = ShownField(label="Flue loss, %", required=False)
    loss_basis = forms.ChoiceField(label="Flue loss is called", choices=BASES, required=False)
    efficiency = ShownField(label="Efficiency, %", required=False)
    efficiency_basis = forms.ChoiceField(label="Efficiency is called", choices=BASES, required=False)
    co_air_free = ShownField(label="CO air-free, ppm", required=False)
    dew_point = ShownField(label="Dew point", required=False)
    other = forms.CharField(label="Another figure, its name", max_length=120, required=False)
    other_shown = ShownField(label="It shows", required=False)
    other_unit = forms.CharField(label="Its unit", max_length=40, required=False, help_text="1 where it has none.")

    def arrange(self) -> None:
        """Begin with the person's unit and the fuel that the settings named."""
        person, tree = self.setting.person, self.setting.found.tree
        self.initial.setdefault("unit", person.temperature_unit or UNITS[0][0])
        self.initial.setdefault("fuel", fuel_noted(tree["steps"]))

    @property
    def groups(self) -> list[tuple[str, list[Any]]]:
        """The fields in the order in which one reads a display, each group with its heading."""
        read = ["fuel", "unit", *(name for name, _, _ in READ)]
        computed = [field for name, _, _ in COMPUTED for field in (name, f"{name}_basis") if field in self.fields]
        return [
            ("What it reads", [self[name] for name in read]),
            ("What it computes", [self[name] for name in computed]),
            ("Anything else", [self[name] for name in ("other", "other_shown", "other_unit")]),
        ]

    @property
    def suggestions(self) -> dict[str, list[str]]:
        """What a field may well hold, by the id of its list."""
        return {"fuels-shown": [fuel.name for fuel in shipped_fuels().values()]}

    def clean_fuel(self) -> str:
        """Keep the fuel as a word: a number alone would be taken for a figure."""
        fuel = str(self.cleaned_data["fuel"]).strip()
        if fuel and _DIGITS.fullmatch(fuel):
            raise forms.ValidationError("Type the fuel by its name, such as “oil no. 2”.")
        return fuel

    def clean(self) -> dict[str, Any]:
        """Ask for at least one computed figure, and for the name of another one."""
        given = super().clean() or self.cleaned_data
        if given.get("other_shown") is not None and not given.get("other"):
            self.add_error("other", "Type what the display calls it.")
        if given.get("other") and given.get("other_shown") is None and "other_shown" not in self.errors:
            self.add_error("other_shown", "Type what it shows.")
        if not self.errors and all(given.get(name) is None for name in (*(row[0] for row in COMPUTED), "other_shown")):
            self.add_error(None, "Nothing computed is entered: type at least one figure that the display computes.")
        return given

    def step(self) -> dict[str, Any]:
        """Return the `displayed` step: every figure that was typed, and the fuel as a text that the display showed."""
        given = self.cleaned_data
        readings = []
        if given["fuel"]:
            readings.append({"channel": "fuel", "unit": "1", "step": 1, "shown": [given["fuel"]]})
        for name, called, unit in (*READ, *COMPUTED):
            if given[name] is not None:
                basis = given.get(f"{name}_basis") or ""
                readings.append(self._reading(name, f"{called} {basis}".strip(), unit or given["unit"]))
        if given["other_shown"] is not None:
            readings.append(self._reading("other_shown", given["other"].strip(), given["other_unit"].strip() or "1"))
        return {"kind": self.kind, "readings": readings}

    def _reading(self, name: str, called: str, unit: str) -> dict[str, Any]:
        typed = str(self.data.get(self.add_prefix(name), ""))
        return {"channel": called, "unit": unit, "step": step_of(typed), "shown": [self.cleaned_data[name]]}


def step_of(typed: str) -> float:
    """Return the display step that a number says by its decimals: 0.1 for "5.0", 1 for "392" and for a text."""
    found = _DIGITS.fullmatch(typed.strip())
    decimals = len(found.group(1) or "") if found else 0
    return float(f"1e-{decimals}")


def fuel_noted(steps: list[dict[str, Any]]) -> str:
    """Return the fuel that the last settings step named, "" where none did; steps: as in the record."""
    noted = ""
    for step in steps:
        for settings in (step.get("as_found", {}), step.get("changed", {})) if step["kind"] == "settings" else ():
            noted = next((str(value) for name, value in settings.items() if "fuel" in name.lower()), noted)
    return noted
