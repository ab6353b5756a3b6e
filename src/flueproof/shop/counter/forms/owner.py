"""An owner, their people, their addresses."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms

from flueproof.shop.counter.forms.controls import text_area
from flueproof.shop.records.keeping.plate_key import name_key
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import Owner, OwnerAddress, OwnerContact

_MOST = 5
_AGREED = ("promise_days", "pays_first", "no_letters")


class OwnerForm(VersionedModelForm):
    """A firm and what it agreed to."""

    is_another = forms.BooleanField(label="It is another firm of the same name", required=False)

    class Meta:
        """Name, agreement, habits."""

        model = Owner
        fields = (
            "name",
            "number",
            "due_agreed",
            "due_months",
            "due_rule",
            "call_first",
            "decision_rule",
            *_AGREED,
            "note",
        )
        widgets: ClassVar[dict[str, Any]] = {"note": text_area()}
        help_texts: ClassVar[dict[str, Any]] = {
            "promise_days": "Empty: the days that the shop promises everybody.",
            "due_agreed": "Only where the owner asked for it: a paper carries no due date otherwise.",
        }

    field_order = ("name", "is_another", *Meta.fields[1:])

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.likely: list[Owner] = []  # firms on file that are called the same

    def clean(self) -> dict[str, Any]:
        """Refuse a name that is on file until somebody says that it is another firm."""
        cleaned = super().clean() or {}
        name = cleaned.get("name", "")
        if name and "name" in self.changed_data and not cleaned.get("is_another"):
            same = Owner.objects.filter(name_key=name_key(name), merged_into=None).exclude(pk=self.instance.pk)
            self.likely = list(same[:_MOST])
            if self.likely:
                self.add_error("name", "A firm of this name is on file. Look at it first; if it is another, say so.")
        return cleaned

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
        labels: ClassVar[dict[str, Any]] = {"email": "E-mail"}
        help_texts: ClassVar[dict[str, Any]] = {"duty": "Such as office, accounts, brings the boxes."}


class AddressForm(VersionedModelForm):
    """An address of an owner."""

    class Meta:
        """As on an envelope."""

        model = OwnerAddress
        fields = ("label", "lines", "postcode", "town", "region", "country")
        widgets: ClassVar[dict[str, Any]] = {"lines": text_area(2)}
        help_texts: ClassVar[dict[str, Any]] = {
            "label": "Such as office, parcels, bills. The first address stands on the papers."
        }
