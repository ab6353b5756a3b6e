"""What an owner sends with a link: an answer, a photo, a yes or no to a quote."""

from __future__ import annotations

from typing import Any, Final

from django import forms

from flueproof.shop.records.keeping.photos import LARGEST_FILE
from flueproof.shop.records.models import OwnerQuestion

_LONGEST_ANSWER: Final = 2000


def name_field(person: str = "") -> forms.CharField:
    """Return the field for who answers."""
    return forms.CharField(
        label="Your name", max_length=120, initial=person, widget=forms.TextInput(attrs={"autocomplete": "name"})
    )


class AnswerForm(forms.Form):
    """One of the choices, own words, or both; a photo where it says more."""

    choice = forms.ChoiceField(label="Your answer", required=False, widget=forms.RadioSelect)
    words = forms.CharField(
        label="In your own words", required=False, max_length=_LONGEST_ANSWER, widget=forms.Textarea(attrs={"rows": 4})
    )
    photo = forms.FileField(
        label="A photo, if it helps",
        required=False,
        widget=forms.ClearableFileInput(attrs={"accept": "image/*"}),
        help_text="Up to 30 MB. We keep it small, and without the place it was taken at.",
    )
    name = name_field()

    def __init__(self, *args: Any, question: OwnerQuestion, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if question.choices:
            choice: Any = self.fields["choice"]
            choice.choices = [(text, text) for text in question.choices]
            self.fields["words"].label = "Anything else"
        else:
            del self.fields["choice"]
            self.fields["words"].label = "Your answer"

    def clean_photo(self) -> Any:
        """Return the file when it is not too large to be looked at."""
        photo = self.cleaned_data.get("photo")
        if photo and (photo.size or 0) > LARGEST_FILE:
            raise forms.ValidationError("The photo is larger than 30 MB; send a smaller one.")
        return photo

    def clean(self) -> dict[str, Any]:
        """Ask for an answer: a choice or words."""
        given: dict[str, Any] = super().clean() or {}
        if not self.errors and not given.get("choice") and not given.get("words", "").strip():
            where = "choice" if "choice" in self.fields else "words"
            self.add_error(where, "Choose an answer or write one.")
        return given

    def text(self) -> str:
        """Return the answer as it is kept."""
        parts = (self.cleaned_data.get("choice", ""), self.cleaned_data.get("words", "").strip())
        return "\n".join(part for part in parts if part)


class DecisionForm(forms.Form):
    """A yes or no to a quote; the button that is pressed says which."""

    decision = forms.ChoiceField(
        choices=[("approve", "approve"), ("decline", "decline")],
        error_messages={"required": "Press Approve or Decline.", "invalid_choice": "Press Approve or Decline."},
    )
    words = forms.CharField(
        label="Anything to say with it",
        required=False,
        max_length=_LONGEST_ANSWER,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    name = name_field()
