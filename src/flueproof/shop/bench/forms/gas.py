"""Looks at a settled display, typed at once: room air, and gas through a swapped probe."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms

from flueproof.analyzer.profile import Channel
from flueproof.bench.judge.gathering import gas_reference
from flueproof.bench.record.references import TestGas
from flueproof.shop.bench.forms.choosing import FEEDS, PROBES, ReferenceField, path_of
from flueproof.shop.bench.forms.step_form import StepForm
from flueproof.shop.bench.forms.typed import NumberField, ShownField
from flueproof.shop.records.gas.as_certified import certified
from flueproof.shop.records.visits.rules.asking_back import far_values, in_shown_unit


class SettledLooks(StepForm):
    """One settled value for each gas channel of the profile; empty fields are left out."""

    places: ClassVar = {"path": "feed", "reference": "reference"}

    def arrange(self) -> None:
        """Add a field and a display step for each gas channel."""
        for name, channel in self.gas_channels().items():
            self.fields[f"shown_{name}"] = ShownField(label=f"{channel.title}, {channel.unit}", required=False)
            self.fields[f"step_{name}"] = NumberField(
                label=f"Display step, {channel.unit}", required=False, initial=f"{channel.step:g}"
            )
            self.initial.setdefault(f"step_{name}", f"{channel.step:g}")

    def gas_channels(self) -> dict[str, Channel]:
        """Return the channels that test gas is compared with."""
        return {name: one for name, one in self.setting.found.profile.channels.items() if one.measures_gas}

    def readings(self) -> list[dict[str, Any]]:
        """Return what was typed as readings of a step."""
        given = self.cleaned_data
        return [
            {
                "channel": name,
                "unit": channel.unit,
                "step": given[f"step_{name}"] or channel.step,
                "shown": [given[f"shown_{name}"]],
            }
            for name, channel in self.gas_channels().items()
            if given.get(f"shown_{name}") is not None
        ]

    def clean(self) -> dict[str, Any]:
        """Ask for at least one value."""
        given = super().clean() or {}
        if not self.errors and not self.readings():
            self.add_error(f"shown_{next(iter(self.gas_channels()))}", "Enter at least one value of the display.")
        return given


class AmbientAirForm(SettledLooks):
    """Room air through the gas path: drift since switching on, no test."""

    kind, title = "ambient-air", "Room air"
    help_text = "What the display shows in room air: drift since it was switched on."

    def step(self) -> dict[str, Any]:
        """Return the `ambient-air` step."""
        return {"kind": self.kind, "readings": self.readings()}


class SwapTestForm(SettledLooks):
    """Gas through the shop's probe on this unit, or this probe on the control analyzer."""

    kind, title, reference_kind = "swap-test", "Swap the probe", "test-gas"
    help_text = "The same gas through the shop's own tight probe: tells the probe assembly from the instrument."
    cautions = ("Vent outdoors or to a hood, CO alarm on.", "Cylinder chained, valve opened slowly.")
    reference = ReferenceField()
    feed = forms.ChoiceField(label="Gas goes in at", choices=FEEDS, initial="tip")
    probe = forms.ChoiceField(label="Through", choices=PROBES, initial="shop")
    supply_l_min = NumberField(label="Supply, l/min", required=False)
    vent_open = forms.ChoiceField(
        label="Does excess gas leave at the vent?",
        choices=(("yes", "yes"), ("no", "not seen")),
        widget=forms.RadioSelect,
    )

    def arrange(self) -> None:
        """Offer the gases on the rack, then the channels."""
        reference = self.fields["reference"]
        assert isinstance(reference, ReferenceField)  # noqa: S101 -- declared above
        reference.offer(self.setting.rack, self.reference_kind)
        super().arrange()

    def step(self) -> dict[str, Any]:
        """Return the `swap-test` step."""
        given = self.cleaned_data
        feed: dict[str, Any] = {"vent_open": given["vent_open"] == "yes"}
        if given["supply_l_min"] is not None:
            feed["supply_l_min"] = given["supply_l_min"]
        return {"kind": self.kind, "path": path_of(given), "feed": feed, "readings": self.readings()}

    def questions(self) -> list[str]:
        """Ask about a display far from the bottle."""
        chosen = self.chosen_reference()
        gas = certified(chosen.content) if chosen is not None else None
        if chosen is None or not isinstance(gas, TestGas):
            return []
        asked: list[str] = []
        for channel in self.gas_channels().values():
            part = gas_reference(gas, chosen.code, channel)
            if part is not None and not part.implied:
                bottle = f"{in_shown_unit(part.value, channel.unit, channel)} bottle"
                asked += far_values(self.readings(), channel, part.value, self.setting.found.phase, bottle)
        return asked
