"""Forms of what is compared at once with an instrument: temperature, pressure, flow."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms

from flueproof.analyzer.profile import Channel
from flueproof.analyzer.units import to_core
from flueproof.shop.bench.forms.choosing import FEEDS, PROBES, ReferenceField, channel_choices, path_of
from flueproof.shop.bench.forms.step_form import StepForm
from flueproof.shop.bench.forms.typed import (
    NumberField,
    ShownField,
    display_step,
    preferred_unit,
    steps_by_unit,
    unit_choices,
)
from flueproof.shop.records.visits.rules.asking_back import far_values

PARTS = (("probe", "the probe"), ("socket", "its socket, simulated"), ("air-sensor", "the air sensor"))


class AgainstInstrument(StepForm):
    """One channel of the display beside a reference instrument; up to three looks."""

    channel_kinds: ClassVar[tuple[str, ...]] = ()
    places: ClassVar = {
        "channel": "channel",
        "reference": "reference",
        "reference_value": "reference_value",
        "readings[0].shown[0]": "shown_1",
        "readings[0].shown[1]": "shown_2",
        "readings[0].shown[2]": "shown_3",
        "readings": "shown_1",
        "readings[0].step": "display_step",
        "readings[0].unit": "unit",
    }
    channel = forms.ChoiceField(label="Channel")
    reference = ReferenceField()
    reference_value = NumberField(label="The reference shows")
    reference_unit = forms.ChoiceField(label="Unit of the reference")
    shown_1 = ShownField(label="The analyzer shows")
    shown_2 = ShownField(label="Second look", required=False)
    shown_3 = ShownField(label="Third look", required=False)
    unit = forms.ChoiceField(label="Unit of the analyzer")
    display_step = NumberField(label="Display step")

    def arrange(self) -> None:
        """Offer channels, instruments and units; begin with the person's unit and the display step of the profile."""
        profile = self.setting.found.profile
        choices = channel_choices(profile, self.channel_kinds)
        self.fields["channel"].choices = choices  # type: ignore[attr-defined]
        reference = self.fields["reference"]
        assert isinstance(reference, ReferenceField)  # noqa: S101 -- declared above
        reference.offer(self.setting.rack, self.reference_kind)
        first = profile.channels[self.initial.setdefault("channel", choices[0][0])]
        units = unit_choices(first)
        for name in ("unit", "reference_unit"):
            self.fields[name].choices = units  # type: ignore[attr-defined]
            self.initial.setdefault(name, preferred_unit(first, self.setting.person))
        self.initial.setdefault("display_step", display_step(first, self.initial["unit"]))
        self.fields["unit"].widget.attrs.update({"data-steps": steps_by_unit(first), "data-step-field": "display_step"})

    def step(self) -> dict[str, Any]:
        """Return the step: channel, reference value and what the display showed."""
        given = self.cleaned_data
        shown = [given[name] for name in ("shown_1", "shown_2", "shown_3") if given[name] is not None]
        reading = {"channel": given["channel"], "unit": given["unit"], "step": given["display_step"], "shown": shown}
        return {
            "kind": self.kind,
            "channel": given["channel"],
            "reference_value": {"unit": given["reference_unit"], "value": given["reference_value"]},
            "readings": [reading],
        }

    def questions(self) -> list[str]:
        """Ask about a display far from the instrument."""
        given = self.cleaned_data
        channel: Channel = self.setting.found.profile.channels[given["channel"]]
        reference = to_core(float(given["reference_value"]), given["reference_unit"], channel.unit)
        on_what = f"reference of {given['reference_value']:g} {given['reference_unit']}"
        return far_values(self.step()["readings"], channel, reference, self.setting.found.phase, on_what)


class TemperatureForm(AgainstInstrument):
    """A temperature channel against a thermometer."""

    kind, title, reference_kind = "temperature", "Temperature", "thermometer"
    channel_kinds = ("thermocouple", "air-sensor")
    help_text = "Wait until both stand still."
    cautions = (
        "Pump off in ice or water: it would draw the water in.",
        "Hot references burn: let the probe cool before it is put away.",
    )
    places: ClassVar = {**AgainstInstrument.places, "of": "of"}
    of = forms.ChoiceField(label="What is tested", choices=PARTS, initial="probe")
    field_order = (
        "channel",
        "of",
        "reference",
        "reference_value",
        "reference_unit",
        "shown_1",
        "unit",
        "shown_2",
        "shown_3",
    )

    def step(self) -> dict[str, Any]:
        """Return the `temperature` step."""
        return {**super().step(), "of": self.cleaned_data["of"]}


class PressureForm(AgainstInstrument):
    """A pressure channel against a manometer."""

    kind, title, reference_kind = "pressure", "Draft and pressure", "manometer"
    channel_kinds = ("pressure",)
    help_text = "Suction is a negative number on both."


class FlowForm(StepForm):
    """The flow of the pump against a flow meter."""

    kind, title, reference_kind = "flow", "Flow of the pump", "flow-meter"
    places: ClassVar = {"reference": "reference", "reference_value": "reference_value", "path": "feed"}
    reference = ReferenceField()
    reference_value = NumberField(label="The flow meter says, l/min")
    feed = forms.ChoiceField(label="Put on at", choices=FEEDS, initial="tip")
    probe = forms.ChoiceField(label="Through", choices=PROBES, initial="owner")

    def arrange(self) -> None:
        """Offer the flow meters on the rack."""
        reference = self.fields["reference"]
        assert isinstance(reference, ReferenceField)  # noqa: S101 -- declared above
        reference.offer(self.setting.rack, self.reference_kind)

    def step(self) -> dict[str, Any]:
        """Return the `flow` step."""
        given = self.cleaned_data
        value = {"unit": "l/min", "value": given["reference_value"]}
        return {"kind": self.kind, "path": path_of(given), "reference_value": value}
