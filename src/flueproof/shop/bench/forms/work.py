"""Forms of work on the analyzer: upkeep, adjustment, parts."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.utils import timezone

from flueproof.analyzer.errors import UnitError
from flueproof.analyzer.units import to_core
from flueproof.bench.judge.gathering import gas_reference
from flueproof.bench.record.references import TestGas
from flueproof.papers.content.display import unit_sign
from flueproof.shop.bench.forms.choosing import ReferenceField, channel_choices
from flueproof.shop.bench.forms.step_form import StepForm
from flueproof.shop.bench.forms.typed import NumberField
from flueproof.shop.records.gas.as_certified import certified
from flueproof.shop.records.models import PartLot
from flueproof.shop.records.stock.at_the_bench import FITTING, kept_here, questions_of
from flueproof.shop.records.stock.finding import find
from flueproof.shop.records.stock.on_shelf import first_out, refusal_of

_YES_NO = (("yes", "yes"), ("no", "no"))


class UpkeepForm(StepForm):
    """Upkeep: nothing adjusted, the case not opened."""

    kind, title = "upkeep", "Upkeep"
    help_text = "Closes the state as found: gas and path are measured again as left."
    cautions = (
        "Power off and gas off before hose, trap or filter is opened.",
        "Condensate is acid: gloves, and wash it off.",
    )
    places: ClassVar = {"done": "done", "what": "what", "text": "text"}
    done = forms.ChoiceField(
        label="Done",
        choices=(("cleaned", "cleaned"), ("reseated", "reseated"), ("new-filter", "new filter")),
        widget=forms.RadioSelect,
    )
    what = forms.CharField(label="What", required=False, max_length=120, help_text="Hose, trap, tip, seal.")
    text = forms.CharField(label="Remark", required=False, max_length=2000)

    def step(self) -> dict[str, Any]:
        """Return the `upkeep` step."""
        given = self.cleaned_data
        return {
            "kind": self.kind,
            "done": given["done"],
            **{name: given[name] for name in ("what", "text") if given[name]},
        }


class AdjustForm(StepForm):
    """An adjustment at the display: the value entered while the reference is on."""

    kind, title = "adjust", "Adjust"
    help_text = "Enter what the display was given, and whether the analyzer took it."
    cautions = ("Vent outdoors or to a hood, CO alarm on.", "Cylinder chained, valve opened slowly.")
    places: ClassVar = {"channel": "channel", "reference": "reference", "entered": "value", "attempt": "attempt"}
    channel = forms.ChoiceField(label="Channel")
    reference = ReferenceField(required=False, help_text="Empty for a zero in clean air.")
    value = NumberField(label="Value entered", required=False)
    unit = forms.ChoiceField(label="Unit", required=False)
    accepted = forms.ChoiceField(label="Did the analyzer accept it?", choices=_YES_NO, widget=forms.RadioSelect)
    attempt = forms.IntegerField(label="Attempt", min_value=1, max_value=99, initial=1)
    signal_before = NumberField(label="Raw signal before", required=False, help_text="Where the service page shows it.")
    signal_after = NumberField(label="Raw signal after", required=False)

    def arrange(self) -> None:
        """Offer the channels, the rack's gases, and every unit a channel may have."""
        profile = self.setting.found.profile
        self.fields["channel"].choices = channel_choices(profile)  # type: ignore[attr-defined]
        kinds = {"test-gas", "thermometer", "manometer"}
        on_rack = [(one.code, f"{one.code}, {one.title}") for one in self.setting.rack if one.kind in kinds]
        self.fields["reference"].choices = [("", "none: zero in air"), *on_rack]  # type: ignore[attr-defined]
        units = dict.fromkeys(("ppm", "%", "degF", "degC", "inH2O", "Pa", "mbar"))
        self.fields["unit"].choices = [("", "–"), *((unit, unit_sign(unit)) for unit in units)]  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Ask for the unit of a value."""
        given = super().clean() or {}
        if given.get("value") is not None and not given.get("unit"):
            self.add_error("unit", "Choose the unit of the value entered.")
        return given

    def step(self) -> dict[str, Any]:
        """Return the `adjust` step."""
        given = self.cleaned_data
        step: dict[str, Any] = {
            "kind": self.kind,
            "channel": given["channel"],
            "accepted": given["accepted"] == "yes",
            "attempt": given["attempt"],
        }
        if given["value"] is not None:
            step["entered"] = {"unit": given["unit"], "value": given["value"]}
        if given["signal_before"] is not None or given["signal_after"] is not None:
            step["signal"] = {"before": given["signal_before"], "after": given["signal_after"]}
        return step

    def questions(self) -> list[str]:
        """Ask about an entered value that is not the bottle's."""
        given, chosen = self.cleaned_data, self.chosen_reference()
        channel = self.setting.found.profile.channels[given["channel"]]
        gas = certified(chosen.content) if chosen is not None and given["value"] is not None else None
        if chosen is None or not isinstance(gas, TestGas):
            return []
        part = gas_reference(gas, chosen.code, channel)
        try:
            entered = to_core(float(given["value"]), given["unit"], channel.unit)
        except UnitError:
            return []
        if part is None or abs(entered - part.value) <= channel.step:
            return []
        bottle = f"{part.value:.4g} {channel.unit} bottle"
        return [f"{channel.title}: {given['value']:g} {given['unit']} entered on a {bottle}: is that what was entered?"]


class PartForm(StepForm):
    """Work on parts: the analyzer is no longer as found."""

    kind, title = "part", "Part"
    help_text = "A cell's serial goes into the analyzer's own list too."
    cautions = (
        "Cells hold lead, acid or lye: gloves and eye protection, old cells to hazardous waste.",
        "Stored readings backed up or asked about? Opening the case may wipe them.",
    )
    places: ClassVar = {"done": "done", "what": "what", "serial": "serial", "opened_case": "opened_case", "lot": "lot"}
    lot = forms.CharField(
        label="Lot of the parts store",
        required=False,
        max_length=80,
        help_text="Scan the package: one piece leaves the store. Empty for a part that is not from the store.",
        widget=forms.TextInput(attrs={"class": "plate", "autocomplete": "off", "data-takes-lot": ""}),
    )
    done = forms.ChoiceField(
        label="Done",
        choices=(("replaced", "replaced"), ("repaired", "repaired"), ("fitted", "fitted"), ("removed", "removed")),
        widget=forms.RadioSelect,
        initial="replaced",
    )
    what = forms.CharField(label="Part", max_length=120, help_text="co cell, pump, probe hose, thermocouple ...")
    serial = forms.CharField(label="Serial number of the new part", required=False, max_length=60)
    opened_case = forms.ChoiceField(label="Was the case opened?", choices=_YES_NO, widget=forms.RadioSelect)

    def clean_lot(self) -> PartLot | None:
        """Find what was scanned; a part's own code means its lot that goes out first. Raises: ValidationError."""
        text = self.cleaned_data["lot"]
        if not text:
            return None
        found, analyzer, day = find(text), self.setting.analyzer, timezone.localdate()
        lot = found.lot or (first_out(found.part, day) if found.part is not None else None)
        if lot is None:
            raise forms.ValidationError(found.said or f"No piece of {found.part} may go out.")
        if refused := refusal_of(lot, analyzer, day):
            raise forms.ValidationError(refused)
        return lot

    def chosen_lot(self) -> PartLot | None:
        """Return the lot that was scanned."""
        lot: PartLot | None = self.cleaned_data.get("lot")
        return lot

    def questions(self) -> list[str]:
        """Ask about firmware and the order of lots; about a part that lies in the store and has no lot here."""
        given, analyzer, day = self.cleaned_data, self.setting.analyzer, timezone.localdate()
        if given["done"] not in FITTING or analyzer is None:
            return []
        if given["lot"] is not None:
            return questions_of(given["lot"], analyzer, day)
        here = kept_here(given["what"], analyzer, day)
        return [f"The store has this part, lot {here.code}: is this one not from the store?"] if here else []

    def step(self) -> dict[str, Any]:
        """Return the `part` step."""
        given = self.cleaned_data
        serial = {"serial": given["serial"]} if given["serial"] else {}
        opened = given["opened_case"] == "yes"
        return {"kind": self.kind, "done": given["done"], "what": given["what"], **serial, "opened_case": opened}
