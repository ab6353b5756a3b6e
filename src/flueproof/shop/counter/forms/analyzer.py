"""An analyzer, its cells, what is due for it."""

from __future__ import annotations

import re
from datetime import date
from typing import Any, ClassVar

from django import forms

from flueproof.analyzer.profile_reader import shipped_profile_names
from flueproof.shop.counter.forms.controls import day_input, text_area
from flueproof.shop.records.keeping.lookalikes import lookalikes_in_words, lookalikes_of
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import Analyzer, Cell, Obligation

GASES = [("o2", "O₂"), ("co", "CO"), ("no", "NO"), ("no2", "NO₂"), ("so2", "SO₂"), ("co2", "CO₂"), ("h2", "H₂")]
_MADE = re.compile(r"(\d{4})-(\d{2})(?:-(\d{2}))?")


class AnalyzerForm(VersionedModelForm):
    """What its plate says, and which rules it follows."""

    is_another = forms.BooleanField(label="The plate was read again: it is another analyzer", required=False)

    class Meta:
        """As on the plate."""

        model = Analyzer
        fields = ("make", "model", "serial", "profile", "firmware", "note", "control_unit")
        widgets: ClassVar[dict[str, Any]] = {
            "note": text_area(),
            "serial": forms.TextInput(attrs={"class": "plate", "spellcheck": "false", "autocomplete": "off"}),
        }

    field_order = ("make", "model", "serial", "is_another", "profile", "firmware", "note", "control_unit")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        names = dict.fromkeys([*shipped_profile_names(), self.instance.profile])
        self.fields["profile"] = forms.ChoiceField(
            label="Service rules", choices=[(name, name.replace("-", " ")) for name in names]
        )
        self.order_fields(self.field_order)

    def clean(self) -> dict[str, Any]:
        """Refuse a new serial that looks like another on file until the plate was read again."""
        cleaned = super().clean() or {}
        serial = cleaned.get("serial", "")
        if serial and "serial" in self.changed_data and not cleaned.get("is_another"):
            found = list(lookalikes_of(serial, besides=self.instance.pk))
            if found:
                self.add_error("serial", lookalikes_in_words(serial, found))
        return cleaned


class CellForm(VersionedModelForm):
    """A cell: which gas, its serial and lot, when made, fitted, taken out."""

    class Meta:
        """As on the cell."""

        model = Cell
        fields = ("gas", "serial", "lot", "made", "fitted", "removed")
        widgets: ClassVar[dict[str, Any]] = {
            "gas": forms.Select(choices=GASES),
            "fitted": day_input(),
            "removed": day_input(),
        }
        labels: ClassVar[dict[str, Any]] = {"removed": "Taken out"}

    def clean_made(self) -> str:
        """Refuse what is no month and no day: the bench record needs one."""
        made: str = self.cleaned_data["made"].strip()
        if made and not _is_month_or_day(made):
            raise forms.ValidationError("Write the month as 2024-06, or the day as 2024-06-15.")
        return made

    def clean(self) -> dict[str, Any]:
        """Refuse a cell that came out before it went in."""
        cleaned = super().clean() or {}
        fitted, removed = cleaned.get("fitted"), cleaned.get("removed")
        if fitted and removed and removed < fitted:
            self.add_error("removed", "It cannot come out before it went in.")
        return cleaned


class NewCellForm(CellForm):
    """The cell that goes in where another comes out; the gas stays, so it is not asked."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        del self.fields["gas"], self.fields["removed"]
        self.fields["fitted"].required = True


class ObligationForm(VersionedModelForm):
    """Something due at an interval the owner agreed to."""

    class Meta:
        """What, how often, agreed with whom."""

        model = Obligation
        fields = ("what", "months", "rule", "agreed_by", "agreed_on", "last_done", "next_due")
        widgets: ClassVar[dict[str, Any]] = {
            "agreed_on": day_input(),
            "last_done": day_input(),
            "next_due": day_input(),
        }
        labels: ClassVar[dict[str, Any]] = {"months": "Every so many months", "rule": "Due"}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["agreed_by"].required = True
        self.fields["agreed_by"].help_text = "Who at the owner's agreed. Without it no paper carries a due date."

    def clean_months(self) -> int:
        """Refuse an interval that the papers cannot print."""
        months: int = self.cleaned_data["months"]
        if not 1 <= months <= 120:
            raise forms.ValidationError("Give a whole number of months from 1 to 120.")
        return months


def _is_month_or_day(text: str) -> bool:
    parts = _MADE.fullmatch(text)
    try:
        return parts is not None and bool(date(int(parts[1]), int(parts[2]), int(parts[3] or 1)))
    except ValueError:
        return False
