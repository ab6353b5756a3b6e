"""Forms of what comes in, goes out and is counted."""

from __future__ import annotations

from typing import Any

from django import forms

from flueproof.shop.parts_store.forms.certificate_file import CertificateFileField
from flueproof.shop.parts_store.forms.store_form import MOST, SCANNED, CodeField, JobField, StoreForm, day_input


class ReceiveForm(StoreForm):
    """A delivery of one lot."""

    code = CodeField(label="Part", help_text="Scan the package or type the part's code.")
    count = forms.IntegerField(label="Pieces", min_value=1, max_value=MOST, initial=1)
    lot = forms.CharField(
        label="Lot", max_length=60, help_text="As on the package.", widget=forms.TextInput(attrs=SCANNED)
    )
    made = forms.DateField(
        label="Made on", required=False, widget=day_input(), help_text="A month alone: its first day."
    )
    expires = forms.DateField(label="Good until, as printed", required=False, widget=day_input())
    serials = forms.CharField(
        label="Serial numbers",
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 2, "class": "plate", "data-scan-here": ""}),
        help_text="One a line, for cells that have one.",
    )
    certificate = CertificateFileField(label="Certificate", required=False)

    def clean_serials(self) -> tuple[str, ...]:
        """Return the serials, one a line or separated by commas."""
        lines = self.cleaned_data["serials"].replace(",", "\n").splitlines()
        return tuple(one.strip()[:60] for one in lines if one.strip())


class TakeForm(StoreForm):
    """Pieces out of a lot."""

    code = CodeField(help_text="A part's code takes the lot that expires first.")
    count = forms.IntegerField(label="Pieces", min_value=1, max_value=MOST, initial=1)
    job = JobField(required=False, help_text="Number, or serial of the analyzer.")
    serial = forms.CharField(
        label="Serial number",
        required=False,
        max_length=60,
        widget=forms.TextInput(attrs={"class": "plate", "autocomplete": "off"}),
    )
    why = forms.CharField(label="If for no job: what for", required=False, max_length=300)


class BackForm(StoreForm):
    """Unused pieces back into their lot."""

    count = forms.IntegerField(label="Pieces", min_value=1, max_value=MOST, initial=1)
    job = JobField(label="From job", required=False)
    serial = forms.CharField(label="Serial number", required=False, max_length=60)
    why = forms.CharField(label="Why", required=False, max_length=300)


class AwayForm(StoreForm):
    """Pieces off the shelf for good."""

    count = forms.IntegerField(label="Pieces", min_value=1, max_value=MOST, initial=1)
    why = forms.CharField(label="Why", max_length=300, help_text="Expired, damaged, sent back to the supplier.")


class LotForm(forms.Form):
    """Whether a lot may be used."""

    state = forms.ChoiceField(
        label="State", choices=[("usable", "usable"), ("recalled", "recalled by its maker"), ("set-aside", "set aside")]
    )
    why = forms.CharField(label="Why", required=False, max_length=300)


class CountForm(StoreForm):
    """What was counted of one lot; `seen` is what the books said when the page was shown."""

    lot = forms.IntegerField(widget=forms.HiddenInput)
    seen = forms.IntegerField(widget=forms.HiddenInput)
    counted = forms.IntegerField(
        label="Counted",
        min_value=0,
        max_value=100_000,
        widget=forms.NumberInput(attrs={"inputmode": "numeric", "autocomplete": "off", "data-typed": ""}),
    )
    why = forms.CharField(label="If it differs: why", required=False, max_length=300)


class CorrectForm(StoreForm):
    """What was wrong with a move."""

    why = forms.CharField(label="What was wrong", max_length=300)


class OrderForm(StoreForm):
    """Pieces on order."""

    count = forms.IntegerField(label="Pieces ordered", min_value=1, max_value=MOST)
    why = forms.CharField(label="Order number or remark", required=False, max_length=300)


class DropForm(StoreForm):
    """An order that will not come."""

    why = forms.CharField(label="Why it will not come", max_length=300)


class ReserveForm(StoreForm):
    """Pieces for a repair."""

    job = JobField()
    count = forms.IntegerField(label="Pieces", min_value=1, max_value=MOST, initial=1)

    def clean(self) -> dict[str, Any]:
        """Refuse an empty job in words."""
        said = super().clean() or {}
        if "job" in said and said["job"] is None:
            self.add_error("job", "Say for which job.")
        return said
