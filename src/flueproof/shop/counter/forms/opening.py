"""A new job, while the caller is on the phone."""

from __future__ import annotations

from typing import Any

from django import forms

from flueproof.analyzer.profile_reader import shipped_profile_names
from flueproof.shop.counter.forms.controls import AS_ON_THE_PLATE, day_input, text_area
from flueproof.shop.records.filing.lookalikes import lookalikes_in_words, lookalikes_of
from flueproof.shop.records.jobs.opening import JobOrder, NewAnalyzer, NewOwner
from flueproof.shop.records.keeping.field_words import profile_in_words
from flueproof.shop.records.models import Analyzer, Job, Owner

_OWNER = ("owner_name", "contact", "phone", "email")
_ANALYZER = ("make", "model", "serial", "profile", "is_another")


class NewJobForm(forms.Form):
    """Owner and analyzer where they are not on file, then what is ordered."""

    owner_name = forms.CharField(label="Firm", max_length=200)
    contact = forms.CharField(label="Who calls", max_length=120, required=False)
    phone = forms.CharField(label="Phone", max_length=40, required=False, widget=forms.TextInput(attrs={"type": "tel"}))
    email = forms.EmailField(label="E-mail", required=False)
    make = forms.CharField(label="Make", max_length=80)
    model = forms.CharField(label="Model", max_length=80)
    serial = forms.CharField(
        label="Serial number",
        max_length=60,
        required=False,
        widget=forms.TextInput(attrs=AS_ON_THE_PLATE),
        help_text="Exactly as on the plate. Not at hand? Leave it empty and read it when the box is here.",
    )
    profile = forms.ChoiceField(label="Service rules", choices=())
    is_another = forms.BooleanField(label="The plate was read again: it is another analyzer", required=False)
    service = forms.ChoiceField(label="Service", choices=Job.SERVICES, initial="verify-adjust")
    complaint = forms.CharField(
        label="Complaint, in the owner's words", max_length=2000, required=False, widget=text_area()
    )
    promised_on = forms.DateField(label="Promised for", required=False, widget=day_input())
    rush = forms.BooleanField(label="Rush", required=False)
    as_found = forms.BooleanField(label="As-found values wanted", required=False, initial=True)
    due_wanted = forms.BooleanField(label="Due date wanted on the papers", required=False)

    def __init__(
        self, *args: Any, owner: Owner | None, analyzer: Analyzer | None, may_add: bool, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.owner, self.analyzer, self.may_add = owner, analyzer, may_add
        self.standing: Job | None = None  # the open job that stands in the way of this one
        profile: Any = self.fields["profile"]
        profile.choices = [(name, profile_in_words(name)) for name in shipped_profile_names()]
        self.initial.setdefault("profile", "two-cell-residential")
        self.likely: list[Analyzer] = []
        gone = (*(_OWNER if owner or not may_add else ()), *(_ANALYZER if analyzer or not may_add else ()))
        for name in (*gone, *(() if owner and owner.due_agreed else ("due_wanted",))):
            del self.fields[name]

    def clean(self) -> dict[str, Any]:
        """Refuse a serial that looks like one on file until it was read again."""
        cleaned = super().clean() or {}
        if cleaned.get("rush") and not cleaned.get("promised_on") and "promised_on" not in self.errors:
            self.add_error("promised_on", "A rush needs a day: by when was it promised?")
        if self.analyzer is None and not self.may_add:
            self.add_error(
                None, "Choose an analyzer that is on file. Your role does not add new ones; the counter does."
            )
        serial = cleaned.get("serial", "").strip()
        if self.analyzer is None and serial and not cleaned.get("is_another"):
            self.likely = list(lookalikes_of(serial))
            if self.likely:
                self.add_error("serial", lookalikes_in_words(serial, self.likely))
        return cleaned

    def owner_wanted(self) -> Owner | NewOwner:
        """Return the owner on file, or the new one as typed."""
        got = self.cleaned_data
        return self.owner or NewOwner(got["owner_name"].strip(), got["contact"], got["phone"], got["email"])

    def analyzer_wanted(self) -> Analyzer | NewAnalyzer:
        """Return the analyzer on file, or the new one as typed."""
        got = self.cleaned_data
        return self.analyzer or NewAnalyzer(got["make"], got["model"], got["serial"], got["profile"])

    def order(self) -> JobOrder:
        """Return what is ordered."""
        got = self.cleaned_data
        return JobOrder(
            service=got["service"],
            complaint=got["complaint"],
            promised_on=got["promised_on"],
            rush=got["rush"],
            due_wanted=bool(got.get("due_wanted")),
            as_found=got["as_found"],
        )
