"""The one page of the phone: the same fields as the public steps, one under the other."""

from __future__ import annotations

from typing import Any, Final

from django import forms

from flueproof.shop.records.models import ServiceRequest
from flueproof.shop.requests.forms.controls import day_input, text_area
from flueproof.shop.requests.forms.steps import (
    AnalyzerForm,
    PackedForm,
    WantedForm,
    WrongForm,
)

_OVER_THE_PHONE: Final = {
    "complaint": "Complaint, in the owner's words",
    "own_number": "Owner's own number",
    "may_set_clock": "The clock may be set",
    "may_update_firmware": "The firmware may be updated",
    "may_clear_memory": "Stored measurements may be deleted",
}


class PhoneForm(forms.Form):
    """Who calls, by when, where it goes back."""

    firm = forms.CharField(label="Firm", max_length=200, required=False)
    contact = forms.CharField(label="Who calls", max_length=120, required=False)
    phone = forms.CharField(label="Phone", max_length=40, required=False, widget=forms.TextInput(attrs={"type": "tel"}))
    email = forms.EmailField(label="E-mail", required=False)
    needed_by = forms.DateField(label="Needed by", required=False, widget=day_input())
    purchase_order = forms.CharField(label="Order number", max_length=60, required=False)
    lines = forms.CharField(label="Street", required=False, max_length=500, widget=text_area(2))
    town = forms.CharField(label="Town", max_length=80, required=False)
    region = forms.CharField(label="State or region", max_length=80, required=False)
    postcode = forms.CharField(label="ZIP or postcode", max_length=20, required=False)
    country = forms.CharField(label="Country", max_length=60, required=False)
    carrier = forms.CharField(label="How it goes back", max_length=120, required=False)
    note = forms.CharField(label="Anything else", required=False, max_length=2000, widget=text_area(2))

    def clean(self) -> dict[str, Any]:
        """Ask for a name, a way to ask back and a way back."""
        cleaned = super().clean() or {}
        if not cleaned.get("firm") and not cleaned.get("contact"):
            self.add_error("firm", "Which firm, or who?")
        if not cleaned.get("phone") and not cleaned.get("email") and "email" not in self.errors:
            self.add_error("phone", "A phone number or an e-mail address is needed, to ask back.")
        if not any(cleaned.get(name) for name in ("lines", "town", "carrier")):
            self.add_error("carrier", "An address above, or here how it goes back (“they collect it”).")
        return cleaned

    def said(self) -> dict[str, Any]:
        """Return field name -> value of the request."""
        own = {field.name for field in ServiceRequest._meta.concrete_fields}  # noqa: SLF001 -- Django's documented API
        return {name: value for name, value in self.cleaned_data.items() if name in own}


class PhoneUnit(AnalyzerForm, WrongForm, WantedForm, PackedForm):
    """All about one analyzer."""

    class Meta(AnalyzerForm.Meta):
        """Every field of an analyzer that an owner can say."""

        fields = (  # type: ignore[assignment] # more of them than the step has
            *AnalyzerForm.Meta.fields,
            *WrongForm.Meta.fields,
            *WantedForm.Meta.fields,
            *PackedForm.Meta.fields,
        )
        labels = {**AnalyzerForm.Meta.labels, **WrongForm.Meta.labels, **WantedForm.Meta.labels}  # noqa: RUF012
        widgets = {**AnalyzerForm.Meta.widgets, **WrongForm.Meta.widgets}  # noqa: RUF012 -- as Django's forms have it

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, label in _OVER_THE_PHONE.items():
            self.fields[name].label = label
        self.fields["complaint"].help_text = ""

    def said(self) -> dict[str, Any]:
        """Return field name -> value of the analyzer."""
        return self.wanted()
