"""Withdrawing a reference, with the reason."""

from __future__ import annotations

from django import forms


class WithdrawForm(forms.Form):
    """Why a reference judges nothing any more."""

    why = forms.CharField(
        label="Why it is withdrawn",
        max_length=500,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="Stands on the page for good. It cannot be taken back.",
    )
