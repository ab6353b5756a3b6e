"""Forms of the loan pool: a unit, lending it, taking it back; readings are fields of the bottle's channels."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from flueproof.analyzer.profile import Channel
from flueproof.shop.records.keeping.plate_key import name_key, plate_key
from flueproof.shop.records.models import Analyzer, Job, Owner
from flueproof.shop.returns.forms.controls import SCANNED, day_input


class GasForm(forms.Form):
    """A bottle and what each channel shows on it; `typed` gives the readings by channel."""

    bottle = forms.CharField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args: Any, channels: Sequence[Channel] = (), needed: bool = True, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.channels = list(channels)
        for channel in self.channels:
            self.fields[f"on_{channel.name}"] = forms.CharField(
                label=f"{channel.title} shows [{channel.unit}]",
                max_length=60,
                required=needed,
                widget=forms.TextInput(attrs={"autocomplete": "off", "inputmode": "decimal"}),
            )

    def typed(self) -> dict[str, str]:
        """Return what was typed for each channel."""
        return {one.name: self.cleaned_data.get(f"on_{one.name}", "") for one in self.channels}

    def readings(self) -> list[Any]:
        """Return the fields of the readings, for the page."""
        return [self[f"on_{channel.name}"] for channel in self.channels]

    def refuse(self, field: str, message: str) -> None:
        """Put a refusal of the check where the eye is."""
        name = f"on_{field}"
        self.add_error(name if name in self.fields else None, message)


class LendForm(GasForm):
    """To whom, until when, for which job."""

    owner = forms.CharField(label="Owner", max_length=200, help_text="The name or the customer number, as on file.")
    given_to = forms.CharField(label="Handed to", max_length=120, required=False)
    until = forms.DateField(label="To be back on", widget=day_input())
    job = forms.CharField(label="While this job is here", max_length=20, required=False)
    field_order = ("owner", "given_to", "until", "job", "bottle")

    def clean_owner(self) -> Owner:
        """Return the firm that is meant, and only one."""
        text = str(self.cleaned_data["owner"]).strip()
        rows = Owner.objects.filter(number__iexact=text) | Owner.objects.filter(name_key=name_key(text))
        found = list(rows.distinct()[:3]) or list(Owner.objects.filter(name_key__startswith=name_key(text))[:6])
        if len(found) != 1:
            named = "; ".join(one.name for one in found[:5])
            raise ValidationError(f"Several are meant: {named}." if found else "No owner of this name is on file.")
        meant: Owner = found[0]
        return meant

    def clean_job(self) -> Job | None:
        """Return the job, None where none is named."""
        text = str(self.cleaned_data["job"]).strip().upper()
        if not text:
            return None
        found: Job | None = Job.objects.select_related("owner").filter(number=text).first()
        if found is None:
            raise ValidationError(f"No job has the number {text}.")
        return found


class ReturnForm(GasForm):
    """How the unit came back."""

    condition = forms.CharField(
        label="How it came back", max_length=300, help_text="Complete? Dry? What is broken or missing?"
    )
    unchecked = forms.BooleanField(label="It cannot be checked on gas now; it waits and is not lent", required=False)
    field_order = ("condition", "unchecked", "bottle")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, needed=False, **kwargs)


class UntilForm(forms.Form):
    """Another day to be back on."""

    until = forms.DateField(label="To be back on", widget=day_input())


class UnitForm(forms.Form):
    """An analyzer of the shop's own that is lent from now on."""

    serial = forms.CharField(label="Serial number", max_length=60, widget=forms.TextInput(attrs=SCANNED))
    name = forms.CharField(label="What the shop calls it", max_length=40, help_text="It stands on its case.")
    enclosed = forms.CharField(
        label="What goes with it", max_length=300, required=False, help_text="Separate several with commas."
    )
    note = forms.CharField(label="Note", max_length=500, required=False)

    def clean_serial(self) -> Analyzer:
        """Return the analyzer with this plate, and only one."""
        text = str(self.cleaned_data["serial"])
        rows = list(Analyzer.objects.filter(serial_key=plate_key(text)).select_related("owner")[:2])
        if not rows:
            raise ValidationError("No analyzer with this plate is on file. Add it to the shop's own entry first.")
        if len(rows) > 1:
            raise ValidationError("Two analyzers have this serial, of two makes; set them apart on file first.")
        meant: Analyzer = rows[0]
        return meant

    def parts(self) -> list[str]:
        """Return what goes with it, one by one."""
        return [one.strip() for one in self.cleaned_data["enclosed"].split(",") if one.strip()]
