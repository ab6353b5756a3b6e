"""Forms that ask for a password: a new one, and the present one again."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth import password_validation
from django.core.exceptions import ValidationError
from django.http import HttpRequest

from flueproof.shop.frame.password_again import password_is_right
from flueproof.shop.records.models import Person


def _field(label: str, autocomplete: str, help_text: str = "") -> forms.CharField:
    widget = forms.PasswordInput(attrs={"autocomplete": autocomplete})
    return forms.CharField(label=label, strip=False, widget=widget, help_text=help_text)


class PasswordAgainForm(forms.Form):
    """The present password of the signed-in person."""

    password = _field("Your password", "current-password")

    def __init__(self, request: HttpRequest, *args: Any, **kwargs: Any) -> None:
        """Keep the request: wrong passwords count toward the lock-out."""
        super().__init__(*args, **kwargs)
        self.request = request

    def clean_password(self) -> str:
        """Return the password when it is right.

        Raises: ValidationError.
        """
        given = str(self.cleaned_data["password"])
        if not password_is_right(self.request, given):
            raise ValidationError("This is not your password.")
        return given


class NewPasswordForm(PasswordAgainForm):
    """The present password and a new one, typed twice."""

    new = _field(
        "New password",
        "new-password",
        "At least 10 signs; not only figures; no common password; nothing like your name.",
    )
    again = _field("New password once more", "new-password")

    def __init__(self, request: HttpRequest, person: Person, *args: Any, **kwargs: Any) -> None:
        """Keep the person whose password changes."""
        super().__init__(request, *args, **kwargs)
        self.person = person

    def clean_new(self) -> str:
        """Return the new password when it keeps the rules.

        Raises: ValidationError.
        """
        given = str(self.cleaned_data["new"])
        password_validation.validate_password(given, self.person)
        return given

    def clean_again(self) -> str:
        """Return the second typing when it is the same.

        Raises: ValidationError.
        """
        given = str(self.cleaned_data["again"])
        if "new" in self.cleaned_data and given != self.cleaned_data["new"]:
            raise ValidationError("The two new passwords differ. Type both again.")
        return given

    def save(self) -> Person:
        """Set the new password."""
        self.person.set_password(self.cleaned_data["new"])
        self.person.save(update_fields=["password"])
        return self.person
