"""Giving a promise by hand."""

from __future__ import annotations

import datetime as dt
from typing import Any

from django import forms
from django.utils import timezone

from flueproof.shop.promises.presenters.next_step import NextStep


def day_input() -> forms.DateInput:
    """Return the control for a day."""
    return forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


class GiveForm(forms.Form):
    """The day that the owner was told, and what was said with it; no day: the one the clock counts."""

    day = forms.DateField(
        label="Another day", required=False, widget=day_input(), help_text="Empty: the day that the clock counts."
    )
    words = forms.CharField(label="What was agreed", required=False, max_length=200)

    def __init__(self, *args: Any, broken: NextStep | None = None, **kwargs: Any) -> None:
        """broken: what is known of the promise that was broken; then the day and with whom it was agreed are asked."""
        super().__init__(*args, **kwargs)
        if broken is None:
            return
        for name, label, words in (
            ("day", "New day", "The first day that the plan keeps with a day to spare."),
            ("words", "Agreed with whom, and what was said", "Kept with the job; the owner reads the day only."),
        ):
            field = self.fields[name]
            field.label, field.help_text, field.required = label, words, True
        self.initial.setdefault("day", broken.offer)

    def clean_day(self) -> dt.date | None:
        """Refuse a day that is over, and one that nobody can mean."""
        day: dt.date | None = self.cleaned_data["day"]
        if day is not None and day < timezone.localdate():
            raise forms.ValidationError("That day is over.")
        if day is not None and day > timezone.localdate() + dt.timedelta(days=365):
            raise forms.ValidationError("That is more than a year from now.")
        return day
