"""The owner's word that a log may be kept, and until when."""

from __future__ import annotations

from django import forms

from flueproof.shop.records.field_logs.keeping import Consent


class KeepForm(forms.Form):
    """Who said so, until when, and what the log is called; without the first two nothing is kept."""

    said = forms.CharField(
        required=False, max_length=200, label="Who said that it may be kept",
        help_text="Name, and how: by phone, by e-mail, in person.",
    )  # fmt: skip
    keep_until = forms.DateField(
        required=False, label="Keep until", widget=forms.DateInput(attrs={"type": "date"}),
        help_text="On the day after, it is erased by itself. At most three years.",
    )  # fmt: skip
    log_name = forms.CharField(required=False, max_length=120, label="Name of the log")

    def consent(self) -> Consent:
        """Return what was said."""
        given = self.cleaned_data
        return Consent(given.get("said", ""), given.get("keep_until"), given.get("log_name", ""))
