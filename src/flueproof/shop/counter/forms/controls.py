"""Fields that several forms share: a day without a time, what came in the box."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any, Final

from django import forms
from django.utils import timezone

from flueproof.shop.records.jobs.box import ENCLOSED

_LONGEST_THING = 60
AS_ON_THE_PLATE: Final = {"class": "plate", "spellcheck": "false", "autocomplete": "off", "data-scan-into": ""}


def day_input() -> forms.DateInput:
    """Return the control for a day; the browser shows it its own way and sends year, month, day."""
    return forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


def not_to_come(day: date | None) -> date | None:
    """Return a day of something that was done. Raises: ValidationError for one that has not come yet."""
    if day is not None and day > timezone.localdate():
        raise forms.ValidationError("That day has not come yet.")
    return day


def text_area(rows: int = 3) -> forms.Textarea:
    """Return a control for several lines."""
    return forms.Textarea(attrs={"rows": rows})


class EnclosedField(forms.MultipleChoiceField):
    """A check list of what came in the box; things that were written in by hand are kept as they are."""

    def __init__(self, **options: Any) -> None:
        options.setdefault("widget", forms.CheckboxSelectMultiple)
        super().__init__(required=False, choices=[(name, name) for name in ENCLOSED], **options)

    def valid_value(self, value: Any) -> bool:
        """Accept any short text: the list is a help, not a limit."""
        return 0 < len(str(value).strip()) <= _LONGEST_THING

    def offer_also(self, names: Iterable[Any]) -> None:
        """Show these in the list too."""
        fresh = [str(name) for name in names if self.valid_value(name)]
        self.choices = [(name, name) for name in dict.fromkeys([*ENCLOSED, *fresh])]


def written_in(text: str) -> list[str]:
    """Return the things of "spare tip, manual" one by one."""
    return [part.strip()[:_LONGEST_THING] for part in text.replace("\n", ",").split(",") if part.strip()]


def work_begins(form: Any) -> Any:
    """Return the form with the focus where work begins: the first wrong field, else the first.

    After a conflict nothing has it: what the other changed is read first.
    """
    fields = form.visible_fields()
    wrong = [bound for bound in fields if bound.errors]
    if getattr(form, "conflict", None) is None and fields and (wrong or not form.is_bound):
        (wrong or fields)[0].field.widget.attrs["autofocus"] = True
    return form
