"""What is done with a letter that went, or did not go."""

from __future__ import annotations

from django import forms


class AgainForm(forms.Form):
    """Where the same words go once more."""

    to = forms.CharField(label="To", max_length=254, widget=forms.EmailInput)


class CameBackForm(forms.Form):
    """What the answer of the mail server says."""

    why = forms.CharField(
        label="What the answer says", max_length=300, required=False, help_text="Such as: no such mailbox."
    )
