"""Forms about the room and the analyzer's state: room, switching on, settings, a look, water."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms

from flueproof.papers.content.display import unit_sign
from flueproof.shop.bench.forms.step_form import StepForm
from flueproof.shop.bench.forms.typed import BarometerField, NumberField
from flueproof.shop.records.visits.rules.arrival import WATER

TEMPERATURES = tuple((unit, unit_sign(unit)) for unit in ("degF", "degC"))


class RoomForm(StepForm):
    """The air at the bench."""

    kind, title = "room", "The room"
    help_text = "From the bench's own instruments. CO in the room becomes a zero error when the analyzer switches on."
    cautions = ("CO alarm on at the bench? Stop work and air the room when it sounds.",)
    places: ClassVar = {
        "air": "air",
        "humidity_pct": "humidity_pct",
        "pressure_hpa": "pressure_hpa",
        "room_co_ppm": "room_co_ppm",
    }
    air = NumberField(label="Air temperature", required=False)
    air_unit = forms.ChoiceField(label="Unit", choices=TEMPERATURES)
    humidity_pct = NumberField(label="Humidity, %", required=False)
    pressure_hpa = BarometerField(
        label="Air pressure, hPa or inHg", required=False, help_text="At the bench, not at sea level."
    )
    room_co_ppm = NumberField(label="CO in the room, ppm", required=False)

    def arrange(self) -> None:
        """Begin with the person's unit."""
        self.initial.setdefault("air_unit", self.setting.person.temperature_unit)

    def step(self) -> dict[str, Any]:
        """Return the `room` step."""
        given = self.cleaned_data
        step: dict[str, Any] = {"kind": self.kind}
        if given["air"] is not None:
            step["air"] = {"unit": given["air_unit"], "value": given["air"]}
        step |= {
            name: given[name] for name in ("humidity_pct", "pressure_hpa", "room_co_ppm") if given[name] is not None
        }
        return step


class ZeroingForm(StepForm):
    """Switching on: where the analyzer drew its air."""

    kind, title = "zeroing", "Switch on"
    button = "Switched on"
    help_text = "Press at the moment of switching on: warm-up counts from here."
    cautions = ("Trap drained? Then power.", "Clean air: away from test gas, burners and traffic.")
    places: ClassVar = {"where": "where", "probe": "probe"}
    where = forms.CharField(label="Where it draws its air", max_length=120, initial="bench")
    probe = forms.ChoiceField(
        label="Probe", choices=(("on", "connected"), ("off", "not connected")), widget=forms.RadioSelect, initial="on"
    )

    def step(self) -> dict[str, Any]:
        """Return the `zeroing` step."""
        return {"kind": self.kind, "where": self.cleaned_data["where"], "probe": self.cleaned_data["probe"]}


class SettingsForm(StepForm):
    """Settings of the analyzer, as found and as changed: one a line, "fuel = natural gas"."""

    kind, title = "settings", "Settings"
    help_text = "One a line, as the display names it: fuel = natural gas"
    places: ClassVar = {"as_found": "as_found", "changed": "changed"}
    _LINES: ClassVar = {"rows": 3, "autocomplete": "off"}
    as_found = forms.CharField(label="As found", required=False, widget=forms.Textarea(attrs=_LINES), max_length=2000)
    changed = forms.CharField(
        label="Changed to",
        required=False,
        widget=forms.Textarea(attrs=_LINES),
        max_length=2000,
        help_text="Back up what the analyzer has stored before you change anything.",
    )

    def clean_as_found(self) -> dict[str, str]:
        """Return the settings by name."""
        return _named(self.cleaned_data["as_found"])

    def clean_changed(self) -> dict[str, str]:
        """Return the settings by name."""
        return _named(self.cleaned_data["changed"])

    def step(self) -> dict[str, Any]:
        """Return the `settings` step."""
        given = {name: self.cleaned_data[name] for name in ("as_found", "changed") if self.cleaned_data[name]}
        return {"kind": self.kind, **given}


class VisualForm(StepForm):
    """What was seen on looking the analyzer over."""

    kind, title = "visual", "Look it over"
    places: ClassVar = {"text": "text"}
    text = forms.CharField(
        label="What you see",
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="Case, plugs, probe tip, hose, filters, display, seals.",
    )

    def step(self) -> dict[str, Any]:
        """Return the `visual` step."""
        return {"kind": self.kind, "text": self.cleaned_data["text"]}


class DrainForm(StepForm):
    """Trap and hose: drained, or seen to be dry."""

    kind, title = "drain", "Drain, and look for water"
    cautions = (
        "Power off until this is done: water drawn into a running pump ruins cells and board.",
        "Condensate is acid: gloves, and wash it off.",
    )
    places: ClassVar = {"text": "text"}
    water = forms.ChoiceField(
        label="Trap and hose",
        choices=(("dry", "dry, no water seen"), ("drained", "water was in, drained")),
        widget=forms.RadioSelect,
    )
    text = forms.CharField(label="Remark", required=False, max_length=500, help_text="Where, and how much.")

    def step(self) -> dict[str, Any]:
        """Return a `drain` step where water was let out, else a `visual` step that says there was none."""
        remark = self.cleaned_data["text"].strip()
        if self.cleaned_data["water"] == "drained":
            return {"kind": "drain", **({"text": remark} if remark else {})}
        said = f"{WATER}none seen in trap and hose."
        return {"kind": "visual", "text": f"{said} {remark}" if remark else said}


def _named(text: str) -> dict[str, str]:
    """Return "name = value" lines by name. Raises: ValidationError for a line without "=", or a name twice."""
    found: dict[str, str] = {}
    for line in (line.strip() for line in text.splitlines()):
        if not line:
            continue
        name, sign, value = (part.strip() for part in line.partition("="))
        if not (sign and name and value):
            raise forms.ValidationError(f"“{line}” is not understood; write it like: fuel = natural gas")
        if name in found:
            raise forms.ValidationError(f"“{name}” stands twice; keep one line.")
        found[name] = value
    return found
