"""The sign-in form and the form for the second factor's code."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm


class SignInForm(AuthenticationForm):
    """Name and password; what was wrong is not told apart."""

    error_messages = {  # noqa: RUF012 -- as Django's own class has it
        "invalid_login": "This name and password do not belong together. Capital and small letters differ.",
        "inactive": "This person no longer signs in here. Ask the manager.",
    }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Put our own labels on Django's fields."""
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "Name"
        self.fields["password"].label = "Password"


class CodeForm(forms.Form):
    """Six figures from the phone, or a backup code."""

    code = forms.CharField(
        label="Code",
        max_length=24,
        help_text="Six figures from the phone, or a backup code.",
        widget=forms.TextInput(attrs={"autocomplete": "one-time-code", "autofocus": True, "spellcheck": "false"}),
    )


class NewCodeForm(forms.Form):
    """The first code of a phone being set up."""

    code = forms.CharField(
        label="Code now on the phone",
        max_length=9,
        help_text="Six figures; they change every half minute.",
        widget=forms.TextInput(attrs={"autocomplete": "one-time-code", "inputmode": "numeric"}),
    )

    def clean_code(self) -> str:
        """Return the figures without spaces."""
        return "".join(str(self.cleaned_data["code"]).split())
