"""What a person keeps of telling an owner."""

from __future__ import annotations

from typing import Any, Final

from django import forms

from flueproof.shop.records.models import Duty

WAYS: Final = [
    ("phone", "by phone"),
    ("in-person", "in person"),
    ("letter", "by letter, printed and posted"),
    ("e-mail", "by e-mail from elsewhere"),
    ("not-reached", "tried, not reached"),
    ("note", "only a note"),
]


class ActForm(forms.Form):
    """One try at telling the owner."""

    way = forms.ChoiceField(label="How", choices=WAYS, widget=forms.RadioSelect, initial="phone")
    whom = forms.CharField(label="Who was told", max_length=120, required=False, help_text="The name of the person.")
    words = forms.CharField(
        label="What was said, what the owner will do",
        max_length=4000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
    )


class MailForm(forms.Form):
    """The notice as an e-mail, in words that can be changed before it goes."""

    to = forms.CharField(label="To", max_length=254, widget=forms.TextInput(attrs={"inputmode": "email"}))
    subject = forms.CharField(label="Subject", max_length=200)
    words = forms.CharField(
        label="Words",
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 16}),
        help_text="The one rule (a corrected value never clears an appliance) goes with every e-mail.",
    )

    def __init__(self, *args: Any, duty: Duty, **options: Any) -> None:
        super().__init__(*args, **options)
        known = duty.owner.contacts.exclude(email="").order_by("id").values_list("email", flat=True)
        self.initial.setdefault("to", known.first() or "")


class WhyForm(forms.Form):
    """A reason that stays."""

    why = forms.CharField(label="Why", max_length=1000, widget=forms.Textarea(attrs={"rows": 2}))
