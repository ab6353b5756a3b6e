"""Changing a job, and taking in its box: both tell when somebody else changed it meanwhile."""

from __future__ import annotations

from datetime import date
from typing import Any, ClassVar

from django import forms
from django.utils import timezone

from flueproof.shop.counter.forms.controls import AS_ON_THE_PLATE, EnclosedField, day_input, text_area, written_in
from flueproof.shop.records.filing.lookalikes import lookalikes_in_words, lookalikes_of
from flueproof.shop.records.jobs.box import plate_unread
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import Job


class BoxForm(VersionedModelForm):
    """What the two forms share: the check list of the box and what else came in it."""

    enclosed = EnclosedField(label="In the box")
    also_enclosed = forms.CharField(
        label="What else", required=False, max_length=200, help_text="Separate several with commas."
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        sent: Any = self.data
        listed: Any = self.fields["enclosed"]
        listed.offer_also([*self.instance.enclosed, *(sent.getlist("enclosed") if hasattr(sent, "getlist") else ())])

    def wanted(self) -> dict[str, Any]:
        """Put the check list and what was written in together."""
        wanted = super().wanted()
        things = [*wanted["enclosed"], *written_in(self.cleaned_data["also_enclosed"])]
        return wanted | {"enclosed": list(dict.fromkeys(things))}


class JobForm(BoxForm):
    """The order and what was noted at the counter."""

    class Meta:
        """In the order in which one asks."""

        model = Job
        fields = (
            "service",
            "promised_on",
            "rush",
            "complaint",
            "as_found",
            "due_wanted",
            "decision_rule",
            "received_on",
            "condition",
            "enclosed",
            "waits_for",
        )
        widgets: ClassVar[dict[str, Any]] = {
            "promised_on": day_input(),
            "received_on": day_input(),
            "complaint": text_area(),
        }
        labels: ClassVar[dict[str, Any]] = {
            "promised_on": "Promised for",
            "received_on": "Received on",
            "rush": "Rush",
            "decision_rule": "Decision rule",
        }

    field_order = (*Meta.fields[:-1], "also_enclosed", "waits_for")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not self.instance.owner.due_agreed:
            del self.fields["due_wanted"]


class ReceiveForm(BoxForm):
    """The box is here: when, how it looks, what is in it; the serial where nobody could read it on the phone."""

    serial = forms.CharField(
        label="Serial number",
        max_length=60,
        widget=forms.TextInput(attrs=AS_ON_THE_PLATE),
        help_text="Exactly as on the plate.",
    )
    is_another = forms.BooleanField(label="The plate was read again: it is another analyzer", required=False)

    class Meta:
        """What one sees in the box."""

        model = Job
        fields = ("received_on", "condition", "enclosed")
        widgets: ClassVar[dict[str, Any]] = {"received_on": day_input()}
        labels: ClassVar[dict[str, Any]] = {"received_on": "Received on"}
        help_texts: ClassVar[dict[str, Any]] = {
            "condition": "As you see it before anything is switched on: wet, sooty, cracked, dry."
        }

    field_order = ("serial", "is_another", "received_on", "condition", "enclosed", "also_enclosed")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not plate_unread(self.instance):
            del self.fields["serial"], self.fields["is_another"]
        self.fields["received_on"].required = self.fields["condition"].required = True

    def clean_received_on(self) -> date:
        """Refuse a day that has not come yet."""
        day: date = self.cleaned_data["received_on"]
        if day > timezone.localdate():
            raise forms.ValidationError("That day has not come yet.")
        return day

    def clean(self) -> dict[str, Any]:
        """Refuse a serial that looks like another on file until the plate was read again."""
        cleaned = super().clean() or {}
        serial = cleaned.get("serial", "")
        if serial and not cleaned.get("is_another"):
            found = list(lookalikes_of(serial, besides=self.instance.analyzer_id))
            if found:
                self.add_error("serial", lookalikes_in_words(serial, found))
        return cleaned
