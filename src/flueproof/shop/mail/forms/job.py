"""What a person of the shop sends from a job: a question, an answer by phone, a letter."""

from __future__ import annotations

from typing import Any, Final

from django import forms

from flueproof.shop.records.mailing.words import LONGEST_SUBJECT, one_line
from flueproof.shop.records.models import Job, OwnerQuestion

_MOST_CHOICES: Final = 6
_LONGEST_CHOICE: Final = 80


def _text_area(rows: int) -> forms.Textarea:
    return forms.Textarea(attrs={"rows": rows})


class AskForm(forms.Form):
    """A question to the owner."""

    kind = forms.ChoiceField(label="About", choices=OwnerQuestion.KINDS, initial="other")
    words = forms.CharField(
        label="The question",
        max_length=2000,
        widget=_text_area(3),
        help_text="One thing at a time, in words that the owner knows.",
    )
    choices = forms.CharField(
        label="Answers to choose from",
        required=False,
        max_length=600,
        widget=_text_area(2),
        help_text="One a line, six at most. Empty: the owner writes.",
    )
    stops = forms.BooleanField(label="The clock stands until it is answered", required=False, initial=True)
    send = forms.BooleanField(label="Send it by e-mail", required=False, initial=True)

    def clean_choices(self) -> list[str]:
        """Return the choices, each on its line."""
        lines = [one_line(line) for line in self.cleaned_data["choices"].splitlines()]
        found = list(dict.fromkeys(line for line in lines if line))
        if len(found) > _MOST_CHOICES:
            raise forms.ValidationError(f"{len(found)} are too many to choose from; six at most.")
        if any(len(line) > _LONGEST_CHOICE for line in found):
            raise forms.ValidationError(f"An answer to choose has at most {_LONGEST_CHOICE} signs.")
        return found


class NoteAnswerForm(forms.Form):
    """An answer that came by phone or at the counter."""

    answer = forms.CharField(label="What was answered", max_length=2000, widget=_text_area(2))
    answered_by = forms.CharField(label="By whom", max_length=120)


class WriteForm(forms.Form):
    """A letter in own words."""

    to = forms.EmailField(label="To", max_length=254)
    subject = forms.CharField(label="Subject", max_length=LONGEST_SUBJECT)
    words = forms.CharField(
        label="The letter",
        max_length=10_000,
        widget=_text_area(8),
        help_text="The shop's name, address and phone are put below it.",
    )

    def __init__(self, *args: Any, job: Job, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial.setdefault("subject", f"About your analyzer, job {job.number}")

    def clean_subject(self) -> str:
        """Return the subject when it is one line: what stands after a line break would become a header."""
        subject: str = self.cleaned_data["subject"]
        if one_line(subject) != " ".join(subject.split(" ")).strip():
            raise forms.ValidationError("A subject is one line; take the line break out.")
        return subject
