"""What the owner decided on the phone: which of the three, who said it, when, and in which words."""

from __future__ import annotations

from typing import Any

from django import forms

from flueproof.shop.records.visits.rules.call_first import DECISIONS


class DecisionForm(forms.Form):
    """The owner's decision."""

    decision = forms.ChoiceField(label="The owner says", choices=DECISIONS, widget=forms.RadioSelect)
    said_by = forms.CharField(label="Who said it", max_length=120)
    said_at = forms.DateTimeField(
        label="When",
        widget=forms.DateTimeInput(attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M"),
        input_formats=["%Y-%m-%dT%H:%M", "%Y-%m-%d %H:%M"],
        help_text="In the shop's own time.",
    )
    words = forms.CharField(
        label="In their words", required=False, max_length=500, widget=forms.Textarea(attrs={"rows": 2})
    )

    def as_said(self) -> dict[str, Any]:
        """Return what the service takes."""
        return {name: self.cleaned_data[name] for name in ("decision", "said_by", "said_at", "words")}
