"""What is typed on the pages of the papers."""

from __future__ import annotations

from typing import Any

from django import forms

from flueproof.shop.papers.presenters.dates import due_line
from flueproof.shop.records.issuing.obligations import DueAfter


class PasswordForm(forms.Form):
    """The signature: the password again, and the hash of the record that was looked at."""

    seen = forms.CharField(widget=forms.HiddenInput, max_length=64)
    password = forms.CharField(
        label="Your password again",
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
        error_messages={"required": "Type your password; it is your signature."},
    )


class SignForm(PasswordForm):
    """A signature, and which obligations of the analyzer this work fulfils."""

    field_order = ("seen", "obligations", "password")
    obligations = forms.MultipleChoiceField(
        label="This work counts for", required=False, widget=forms.CheckboxSelectMultiple
    )

    def __init__(self, *args: Any, due: list[DueAfter], **kwargs: Any) -> None:
        """Offer the analyzer's obligations, all chosen."""
        super().__init__(*args, **kwargs)
        field: Any = self.fields["obligations"]
        field.choices = [(str(one.obligation.pk), due_line(one)) for one in due]
        field.initial = [str(one.obligation.pk) for one in due]
        if not due:
            del self.fields["obligations"]

    def chosen(self) -> set[int] | None:
        """Return the ids of the chosen obligations, None where there are none to choose from."""
        return {int(one) for one in self.cleaned_data["obligations"]} if "obligations" in self.fields else None


class AmendForm(PasswordForm):
    """A signature under an amended paper, and why there is one."""

    field_order = ("seen", "why", "same", "password")
    same = forms.BooleanField(
        label="Nothing in the record differs; issue it all the same",
        error_messages={
            "required": "Tick this, or put the record right first: the new paper would say what the old one does."
        },
    )
    why = forms.CharField(
        label="Why the paper is amended",
        help_text="It is printed on the new paper, such as: The serial number was misread.",
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={"required": "Say why; it is printed on the new paper."},
    )

    def __init__(self, *args: Any, differs: bool, **kwargs: Any) -> None:
        """Ask once more where the new paper would say nothing new."""
        super().__init__(*args, **kwargs)
        if differs:
            del self.fields["same"]


class PrintForm(forms.Form):
    """Why a sticker or tag is printed again."""

    why = forms.CharField(label="Why it is printed again", max_length=200, required=False)
