"""Opening the job of a yes on the phone: whose and which analyzer it is; the question comes along."""

from __future__ import annotations

from typing import Any

from django import forms

from flueproof.analyzer.profile_reader import shipped_profile_names
from flueproof.shop.records.filing.lookalikes import lookalikes_in_words, lookalikes_of
from flueproof.shop.records.jobs.opening import NewAnalyzer, NewOwner
from flueproof.shop.records.keeping.field_words import profile_in_words
from flueproof.shop.records.keeping.plate_key import plate_key
from flueproof.shop.records.models import Analyzer, Owner
from flueproof.shop.records.promises.taking import NewJob


class NewJobForm(forms.Form):
    """A serial that is on file is enough; else the firm, and what the plate says."""

    serial = forms.CharField(
        label="Serial number",
        max_length=60,
        required=False,
        widget=forms.TextInput(attrs={"autocapitalize": "characters", "autocomplete": "off", "spellcheck": "false"}),
        help_text="On file? Then this is enough. Not at hand? Leave it empty.",
    )
    is_another = forms.BooleanField(label="The plate was read again: it is another analyzer", required=False)
    make = forms.CharField(label="Make", max_length=80, required=False)
    model = forms.CharField(label="Model", max_length=80, required=False)
    profile = forms.ChoiceField(label="Service rules", choices=())
    owner_name = forms.CharField(label="Firm", max_length=200, required=False)
    contact = forms.CharField(label="Who calls", max_length=120, required=False)
    phone = forms.CharField(label="Phone", max_length=40, required=False, widget=forms.TextInput(attrs={"type": "tel"}))
    complaint = forms.CharField(
        label="Complaint, in the owner's words",
        max_length=2000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 2}),
    )

    def __init__(self, *args: Any, may_add: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.may_add = may_add
        self.on_file: Analyzer | None = None
        self.likely = False
        profile: Any = self.fields["profile"]
        profile.choices = [(name, profile_in_words(name)) for name in shipped_profile_names()]
        self.initial.setdefault("profile", "two-cell-residential")

    def clean(self) -> dict[str, Any]:
        """Find the analyzer by its serial; ask for firm and model where it is not on file."""
        cleaned = super().clean() or {}
        serial = cleaned.get("serial", "").strip()
        rows = list(Analyzer.objects.filter(serial_key=plate_key(serial)).select_related("owner")[:2]) if serial else []
        if len(rows) > 1:
            self.add_error("serial", "Several makes have this serial number; open the job at its analyzer instead.")
        elif rows:
            self.on_file = rows[0]
        elif not self.may_add:
            self.add_error("serial", "Not on file, and your role does not add analyzers; the counter does.")
        else:
            self._check_new(cleaned, serial)
        return cleaned

    def _check_new(self, cleaned: dict[str, Any], serial: str) -> None:
        looks_like = list(lookalikes_of(serial)) if serial and not cleaned.get("is_another") else []
        if looks_like:
            self.likely = True
            self.add_error("serial", lookalikes_in_words(serial, looks_like))
        for name, words in (("owner_name", "Whose is it?"), ("make", "What make?"), ("model", "Which model?")):
            if not cleaned.get(name, "").strip():
                self.add_error(name, f"{words} The analyzer is not on file.")

    def new_job(self) -> NewJob:
        """Return whose and which analyzer is meant; a firm whose very name is on file is that one."""
        got = self.cleaned_data
        if self.on_file is not None:
            return NewJob(self.on_file.owner, self.on_file, got["complaint"])
        name = got["owner_name"].strip()
        same = list(Owner.objects.filter(name__iexact=name)[:2])
        owner = same[0] if len(same) == 1 else NewOwner(name, got["contact"], got["phone"])
        analyzer = NewAnalyzer(got["make"].strip(), got["model"].strip(), got["serial"], got["profile"])
        return NewJob(owner, analyzer, got["complaint"])
