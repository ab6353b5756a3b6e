"""Forms that add to the record without touching the analyzer: note, memory, a point left out, a strike."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms

from flueproof.bench.errors import RecordError
from flueproof.shop.bench.forms.step_form import StepForm
from flueproof.shop.records.visits.rules.arrival import MEMORY, MEMORY_ANSWERS
from flueproof.shop.records.visits.rules.skipping import skip_note


class NoteForm(StepForm):
    """A note."""

    kind, title = "note", "Note"
    places: ClassVar = {"text": "text"}
    text = forms.CharField(label="Note", max_length=2000, widget=forms.Textarea(attrs={"rows": 3}))

    def step(self) -> dict[str, Any]:
        """Return the `note` step."""
        return {"kind": "note", "text": self.cleaned_data["text"]}


class MemoryForm(StepForm):
    """What became of the readings that the analyzer has stored."""

    kind, title = "memory", "Memory"
    help_text = "Before settings are changed or the case is opened: what the owner has stored may be wiped."
    places: ClassVar = {"text": "text"}
    answer = forms.ChoiceField(label="Stored readings", choices=MEMORY_ANSWERS, widget=forms.RadioSelect)
    text = forms.CharField(label="Where, or who said so", required=False, max_length=300)

    def step(self) -> dict[str, Any]:
        """Return the `note` step that says so."""
        said = dict(MEMORY_ANSWERS)[self.cleaned_data["answer"]]
        more = self.cleaned_data["text"].strip()
        return {"kind": "note", "text": f"{MEMORY}{said}. {more}".strip()}


class SkipForm(StepForm):
    """A needed point left out, with the reason in writing."""

    kind, title = "skip", "Leave a point out"
    button = "Leave it out"
    help_text = "The papers will say that it was not tested; nothing will claim it."
    places: ClassVar = {"why": "why", "point": "point"}
    point = forms.ChoiceField(label="Point")
    why = forms.CharField(label="Why it is not measured", max_length=500, widget=forms.Textarea(attrs={"rows": 2}))

    def arrange(self) -> None:
        """Offer the points of the procedure."""
        points = self.setting.found.profile.points
        self.fields["point"].choices = [(one.id, one.title) for one in points]  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Refuse what is no reason."""
        given = super().clean() or {}
        if not self.errors:
            try:
                self.step()
            except RecordError as error:
                self.add_record_error(error)
        return given

    def step(self) -> dict[str, Any]:
        """Return the `note` step that leaves the point out."""
        given, found = self.cleaned_data, self.setting.found
        return skip_note(given["point"], found.phase, given["why"], found.profile)


class StrikeForm(StepForm):
    """A step struck out: it stays in the record and no longer counts."""

    kind, title = "strike", "Strike a step out"
    button = "Strike it out"
    help_text = "It stays in the record, struck through, with your reason. Its gas is spent all the same."
    places: ClassVar = {"strikes": "strikes", "why": "why"}
    strikes = forms.CharField(label="Step", max_length=120, widget=forms.TextInput(attrs={"class": "plate"}))
    why = forms.CharField(label="Why it does not count", max_length=500, widget=forms.Textarea(attrs={"rows": 2}))

    def step(self) -> dict[str, Any]:
        """Return the `strike` step."""
        return {"kind": "strike", "strikes": self.cleaned_data["strikes"], "why": self.cleaned_data["why"]}
