"""What the forms of this page share: the code that is scanned, the sender, and where a refusal stands."""

from __future__ import annotations

import uuid
from typing import Any, Final, cast

from django import forms
from django.utils import timezone

from flueproof.shop.records.models import Job
from flueproof.shop.records.stock.errors import StockError
from flueproof.shop.records.stock.finding import Found, find
from flueproof.shop.records.stock.ledger import Pen

SCANNED: Final = {"class": "plate", "spellcheck": "false", "autocomplete": "off", "data-takes-code": ""}
MOST: Final = 10_000


def day_input() -> forms.DateInput:
    """Return the control for a day; the browser shows it its own way and sends year, month, day."""
    return forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


class StoreForm(forms.Form):
    """A form that is counted once, however often it is sent."""

    page = forms.UUIDField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args: Any, **options: Any) -> None:
        """Give every new form an id of its own."""
        super().__init__(*args, **options)
        self.fields["page"].initial = uuid.uuid4

    def pen(self, request: Any) -> Pen:
        """Return who writes, when, for this form."""
        return Pen(request.user, timezone.now(), f"parts-{self.cleaned_data['page'] or uuid.uuid4()}")

    def refuse(self, error: StockError) -> None:
        """Show a refusal at its field, or over the form where it has none here."""
        self.add_error(error.field if error.field in self.fields else None, error.words)


class CodeField(forms.CharField):
    """A scanned or typed code of a part or a lot; `clean` gives what it means."""

    def __init__(self, **options: Any) -> None:
        """Take the scan like typing."""
        widget = forms.TextInput(attrs=SCANNED)
        super().__init__(**{"label": "Part or lot", "max_length": 80, "widget": widget, **options})

    def clean(self, value: Any) -> Found:
        """Return what the code means. Raises: ValidationError where that is not one thing."""
        found = find(super().clean(value))
        if found.said:
            raise forms.ValidationError(found.said)
        return found


class JobField(forms.CharField):
    """A job by its number or the analyzer's serial; `clean` gives the job, None where nothing was typed."""

    def __init__(self, **options: Any) -> None:
        """Take job numbers and serials."""
        widget = forms.TextInput(attrs={"class": "plate", "autocomplete": "off", "spellcheck": "false"})
        super().__init__(**{"label": "For job", "max_length": 60, "widget": widget, **options})

    def clean(self, value: Any) -> Job | None:
        """Return the job. Raises: ValidationError where there is none, or several."""
        text = super().clean(value).strip()
        if not text:
            return None
        rows = Job.objects.select_related("analyzer", "owner")
        job: Job | None = rows.filter(number__iexact=text).first()
        if job is not None:
            return job
        here = list(rows.filter(analyzer__serial__iexact=text, state__in=Job.OPEN)[:2])
        if len(here) == 1:
            return cast("Job", here[0])
        raise forms.ValidationError(f"No open job has the number or serial “{text}”; type the job's number.")
