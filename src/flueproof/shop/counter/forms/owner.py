"""An owner, their people, their addresses."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms

from flueproof.shop.counter.forms.controls import text_area
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import Owner, OwnerAddress, OwnerContact


class OwnerForm(VersionedModelForm):
    """A firm and what it agreed to."""

    class Meta:
        """Name, agreement, habits."""

        model = Owner
        fields = ("name", "number", "due_agreed", "due_months", "due_rule", "call_first", "decision_rule", "note")
        widgets: ClassVar[dict[str, Any]] = {"note": text_area()}
        help_texts: ClassVar[dict[str, Any]] = {
            "due_agreed": "Only where the owner asked for it: a paper carries no due date otherwise."
        }

    def clean_due_months(self) -> int:
        """Refuse an interval that the papers cannot print."""
        months: int = self.cleaned_data["due_months"]
        if not 1 <= months <= 120:
            raise forms.ValidationError("Give a whole number of months from 1 to 120.")
        return months


class ContactForm(VersionedModelForm):
    """A person of an owner."""

    class Meta:
        """Whom to ring."""

        model = OwnerContact
        fields = ("name", "phone", "email", "duty")
        widgets: ClassVar[dict[str, Any]] = {"phone": forms.TextInput(attrs={"type": "tel"})}


class AddressForm(VersionedModelForm):
    """An address of an owner."""

    class Meta:
        """As on an envelope."""

        model = OwnerAddress
        fields = ("label", "lines", "postcode", "town", "region", "country")
        widgets: ClassVar[dict[str, Any]] = {"lines": text_area(2)}
