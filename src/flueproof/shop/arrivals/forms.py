"""Forms of the boxes: what was scanned, what could be read, whose it is, what is in it, who called."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from typing import Any, Final

from django import forms

from flueproof.analyzer.profile_reader import shipped_profile_names
from flueproof.shop.records.jobs.box import ENCLOSED
from flueproof.shop.records.keeping.field_words import profile_in_words
from flueproof.shop.records.models import Job, RequestedAnalyzer

_LONGEST_THING: Final = 60
PLATE: Final = {"class": "plate", "spellcheck": "false", "autocomplete": "off", "autocapitalize": "characters"}
QUIET: Final = {"spellcheck": "false", "autocomplete": "off"}


class ScanForm(forms.Form):
    """One field for whatever is scanned; box: the number of a box that has another analyzer in it."""

    scan = forms.CharField(max_length=400, required=False)
    box = forms.RegexField(r"B-\d{4}-\d{5}", max_length=20, required=False)
    page = forms.CharField(max_length=40, required=False)


class CluesForm(forms.Form):
    """What can be read of the plate, of the label and of the postmark; nothing is needed."""

    serial = forms.CharField(
        label="Serial on the plate",
        max_length=60,
        required=False,
        help_text="? for a character that cannot be read, * for several.",
        widget=forms.TextInput(attrs={**PLATE, "data-scan-into": ""}),
    )
    make = forms.CharField(label="Make", max_length=80, required=False, widget=forms.TextInput(attrs=QUIET))
    model = forms.CharField(label="Model", max_length=80, required=False, widget=forms.TextInput(attrs=QUIET))
    name = forms.CharField(
        label="Sender: firm or person", max_length=200, required=False, widget=forms.TextInput(attrs=QUIET)
    )
    street = forms.CharField(label="Street", max_length=200, required=False, widget=forms.TextInput(attrs=QUIET))
    postcode = forms.CharField(label="Postcode", max_length=20, required=False, widget=forms.TextInput(attrs=QUIET))
    town = forms.CharField(label="Town", max_length=80, required=False, widget=forms.TextInput(attrs=QUIET))
    postmark = forms.CharField(
        label="Postmark: town", max_length=80, required=False, widget=forms.TextInput(attrs=QUIET)
    )
    phone = forms.CharField(
        label="Phone", max_length=40, required=False, help_text="A part is enough.", widget=forms.TextInput(attrs=QUIET)
    )
    email = forms.CharField(label="E-mail", max_length=200, required=False, widget=forms.TextInput(attrs=QUIET))
    note = forms.CharField(
        label="What else is written on it, where it lies",
        max_length=1000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 2}),
    )

    def clues(self) -> dict[str, str]:
        """Return the clues that are there, without the note; what is too long is cut."""
        typed = {name: in_one_line(str(self.data.get(name, "")))[:200] for name in self.fields if name != "note"}
        return {name: text for name, text in typed.items() if text}

    def note_typed(self) -> str:
        """Return the note."""
        lines = (in_one_line(line) for line in str(self.data.get("note", "")).splitlines())
        return "\n".join(lines).strip()[:1000]

    def too_long(self) -> str:
        """Return what to say where more was typed than is kept, "" where all of it is."""
        self.full_clean()
        return " ".join(
            f"{self.fields[name].label}: {error}"
            for name, errors in self.errors.as_data().items()
            for one in errors
            if one.code == "max_length"
            for error in one.messages
        )


class NewcomerForm(forms.Form):
    """An analyzer that is not on file, and its owner where the firm is not on file either."""

    owner_name = forms.CharField(label="Firm", max_length=200)
    contact = forms.CharField(label="Person", max_length=120, required=False)
    phone = forms.CharField(label="Phone", max_length=40, required=False, widget=forms.TextInput(attrs={"type": "tel"}))
    email = forms.EmailField(label="E-mail", required=False)
    make = forms.CharField(label="Make", max_length=80)
    model = forms.CharField(label="Model", max_length=80)
    serial = forms.CharField(
        label="Serial number",
        max_length=60,
        required=False,
        help_text="Exactly as on the plate. It cannot be read? Leave it empty and read it at the bench.",
        widget=forms.TextInput(attrs={**PLATE, "data-scan-into": ""}),
    )
    profile = forms.ChoiceField(label="Service rules", choices=(), initial="two-cell-residential")

    def __init__(self, *args: Any, owner_on_file: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        profile: Any = self.fields["profile"]
        profile.choices = [(name, profile_in_words(name)) for name in shipped_profile_names()]
        if owner_on_file:
            for name in ("owner_name", "contact", "phone", "email"):
                del self.fields[name]

    def clean_serial(self) -> str:
        """Refuse a serial with characters that nobody could read: it would be kept as if it stood so on the plate."""
        serial = str(self.cleaned_data["serial"]).strip()
        if "?" in serial or "*" in serial:
            raise forms.ValidationError("Give the whole serial, or leave it empty until the plate was read.")
        return serial


class ConditionForm(forms.Form):
    """What is in the box and how it looks."""

    enclosed = forms.MultipleChoiceField(
        label="In the box", required=False, choices=(), widget=forms.CheckboxSelectMultiple
    )
    also = forms.CharField(
        label="What else is in it", required=False, max_length=200, help_text="Separate several with commas."
    )
    condition = forms.CharField(
        label="How it looks",
        max_length=300,
        help_text="As you see it before anything is switched on: dry, wet, sooty, cracked, box crushed.",
    )
    seen = forms.MultipleChoiceField(
        label="You see, or the owner says",
        required=False,
        choices=RequestedAnalyzer.ACCIDENTS,
        widget=forms.CheckboxSelectMultiple,
    )
    carrier = forms.CharField(label="Carrier and parcel number", required=False, max_length=80)

    def __init__(self, *args: Any, job: Job, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        sent: Any = self.data
        names = [*job.enclosed_announced, *job.enclosed, *(sent.getlist("enclosed") if self.is_bound else ())]
        self.things = _things(names)
        chosen: Any = self.fields["enclosed"]
        chosen.choices = [(name, name) for name in self.things]

    def all_enclosed(self) -> list[str]:
        """Return what was ticked and what was written in."""
        written = [part.strip()[:_LONGEST_THING] for part in self.cleaned_data["also"].split(",") if part.strip()]
        return [*self.cleaned_data["enclosed"], *written]


class WhyForm(forms.Form):
    """A reason, which is kept."""

    why = forms.CharField(max_length=300)


class CallForm(forms.Form):
    """Who called about what."""

    caller = forms.CharField(label="Who called", max_length=120, required=False)
    phone = forms.CharField(
        label="Number", max_length=40, required=False, widget=forms.TextInput(attrs={"type": "tel"})
    )
    about = forms.CharField(
        label="About: job number or serial",
        max_length=60,
        required=False,
        widget=forms.TextInput(attrs={**PLATE, "data-scan-into": ""}),
    )
    said = forms.CharField(
        label="What it was about", max_length=2000, required=False, widget=forms.Textarea(attrs={"rows": 3})
    )

    def clean(self) -> dict[str, Any]:
        """Refuse a call of nobody about nothing."""
        cleaned = super().clean() or {}
        if not any(cleaned.get(name, "").strip() for name in ("caller", "phone", "said")):
            self.add_error("caller", "Who called, or from which number, or about what?")
        return cleaned


def in_one_line(text: str) -> str:
    """Return a text without what nobody sees: control characters, and marks that turn the direction of writing."""
    seen = (sign if sign.isprintable() else "" if unicodedata.category(sign) == "Cf" else " " for sign in text)
    return " ".join("".join(seen).split())


def _things(names: Iterable[Any]) -> list[str]:
    fresh = [str(name).strip() for name in names if 0 < len(str(name).strip()) <= _LONGEST_THING]
    return list(dict.fromkeys([*fresh, *ENCLOSED]))
