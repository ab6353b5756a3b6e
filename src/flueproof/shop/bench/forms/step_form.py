"""What the forms of all step kinds have in common: who sends, what is asked back, where a record error stands."""

from __future__ import annotations

import re
import uuid
from dataclasses import dataclass, field
from typing import Any, ClassVar

from django import forms

from flueproof.bench.errors import RecordError
from flueproof.papers.content.wording import on_paper
from flueproof.shop.records.models import Analyzer, PartLot, Person, Reference
from flueproof.shop.records.visits.events import Sender
from flueproof.shop.records.visits.judged import Judged


@dataclass(frozen=True, slots=True)
class Setting:
    """Where a form is filled in: the visit as it stands, who fills it in, what is on the rack.

    start: values to begin with, from the proposal or the verdict; analyzer: that the visit is for.
    """

    found: Judged
    person: Person
    rack: tuple[Reference, ...] = ()
    start: dict[str, Any] = field(default_factory=dict)
    analyzer: Analyzer | None = None


class StepForm(forms.Form):
    """The form of one step kind.

    title: its heading; button: what the act is called; places: place in the step -> field that it came from;
    reference_kind: what it is compared with, "" for nothing; template: of its fields.
    """

    kind: ClassVar[str] = ""
    title: ClassVar[str] = ""
    button: ClassVar[str] = "Record"
    help_text: ClassVar[str] = ""
    places: ClassVar[dict[str, str]] = {}
    reference_kind: ClassVar[str] = ""
    cautions: ClassVar[tuple[str, ...]] = ()

    page = forms.UUIDField(widget=forms.HiddenInput, required=False)
    asked = forms.CharField(widget=forms.HiddenInput, required=False)

    def __init__(self, data: Any = None, *, setting: Setting) -> None:
        """Fill in where the form stands; every new form has an id of its own, so that a second press does nothing."""
        super().__init__(data, initial={"page": uuid.uuid4(), **setting.start})
        self.setting = setting
        self.arrange()
        self._mark_first()

    def arrange(self) -> None:
        """Set choices that hang on the visit; nothing to arrange where a form has none."""

    def step(self) -> dict[str, Any]:
        """Return the step as far as the form knows it: kind and content, without id, time, person and phase."""
        raise TypeError(f"the form of {self.kind} builds no step")

    def chosen_reference(self) -> Reference | None:
        """Return the reference that was chosen, None where the kind has none."""
        code = self.cleaned_data.get("reference")
        return next((one for one in self.setting.rack if one.code == code), None) if code else None

    def chosen_lot(self) -> PartLot | None:
        """Return the lot of the parts store that a piece is taken from, None where the kind takes none."""
        return None

    def questions(self) -> list[str]:
        """Return what is asked back once; nothing where all is near what was to be expected."""
        return []

    def sender(self) -> Sender:
        """Return who sends: this form, once."""
        return Sender(f"bench-{self.cleaned_data['page'] or uuid.uuid4()}", 1)

    def asks_back(self) -> bool:
        """Ask about far values and tell whether the answer is still to come; the same values sent again are it."""
        asked = self.questions()
        said = " ".join(asked)
        if not asked or self.cleaned_data.get("asked") == said:
            return False
        for question in asked:
            self.add_error(None, f"{question} Press {self.button} again if so, or correct it.")
        answered: Any = dict(self.data.items())
        answered["asked"] = said
        self.data = answered
        return True

    def add_record_error(self, error: RecordError) -> None:
        """Show what the record refuses at the field that it came from, with the remedy."""
        place = re.sub(r"^\$(\.steps\[\d+\])?\.?", "", error.path)
        fitting = [known for known in self.places if place == known or place.startswith((f"{known}.", f"{known}["))]
        name = self.places[max(fitting, key=len)] if fitting else place
        said = on_paper(" ".join(part for part in (sentence(error.message), error.remedy) if part))
        self.add_error(name if name in self.fields else None, said)

    def _mark_first(self) -> None:
        for name, one in self.fields.items():
            if not one.widget.is_hidden:
                self.fields[name].widget.attrs.setdefault("data-first", "")
                break


def sentence(text: str) -> str:
    """Return a message that begins like a sentence."""
    return text[:1].upper() + text[1:]
