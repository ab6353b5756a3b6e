"""An analyzer, its cells, what is due for it, its sale."""

from __future__ import annotations

import re
from datetime import date
from typing import Any, ClassVar

from django import forms

from flueproof.analyzer.profile_reader import shipped_profile_names
from flueproof.papers.due import date_in_words
from flueproof.shop.counter.forms.controls import AS_ON_THE_PLATE, day_input, not_to_come, text_area
from flueproof.shop.records.filing.lookalikes import lookalikes_in_words, lookalikes_of
from flueproof.shop.records.issuing.obligations import next_due
from flueproof.shop.records.keeping.field_words import GAS_WORDS, profile_in_words
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import Analyzer, Cell, Obligation, Owner

_THE_RULE = {"months", "rule", "last_done"}
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
            "serial": forms.TextInput(attrs=AS_ON_THE_PLATE),
        }

    field_order = ("make", "model", "serial", "is_another", "profile", "firmware", "note", "control_unit")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        names = dict.fromkeys([*shipped_profile_names(), self.instance.profile])
        self.fields["profile"] = forms.ChoiceField(
            label="Service rules", choices=[(name, profile_in_words(name)) for name in names]
        )
        self.order_fields(self.field_order)
        self.likely: list[Analyzer] = []  # analyzers on file whose plates read alike

    def clean(self) -> dict[str, Any]:
        """Refuse a new serial that is on file, or looks like another there until the plate was read again."""
        cleaned = super().clean() or {}
        make, serial = cleaned.get("make", ""), cleaned.get("serial", "")
        same = Analyzer.objects.filter(make=make, serial=serial).exclude(pk=self.instance.pk).select_related("owner")
        self.likely = list(same)
        if self.likely:
            self.add_error("serial", f"{make} {serial} is on file already, of {self.likely[0].owner}.")
        elif serial and "serial" in self.changed_data and not cleaned.get("is_another"):
            self.likely = list(lookalikes_of(serial, besides=self.instance.pk))
            if self.likely:
                self.add_error("serial", lookalikes_in_words(serial, self.likely))
        return cleaned


class CellForm(VersionedModelForm):
    """A cell: which gas, its serial and lot, when made, fitted, taken out."""

    class Meta:
        """As on the cell."""

        model = Cell
        fields = ("gas", "serial", "lot", "made", "fitted", "removed")
        widgets: ClassVar[dict[str, Any]] = {
            "gas": forms.Select(choices=[*GAS_WORDS.items()]),
            "serial": forms.TextInput(attrs=AS_ON_THE_PLATE),
            "lot": forms.TextInput(attrs={"class": "plate", "spellcheck": "false", "autocomplete": "off"}),
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

    def clean_fitted(self) -> date | None:
        """Refuse a day that has not come yet."""
        return not_to_come(self.cleaned_data["fitted"])

    def clean_removed(self) -> date | None:
        """Refuse a day that has not come yet."""
        return not_to_come(self.cleaned_data["removed"])

    def clean(self) -> dict[str, Any]:
        """Refuse a cell that came out before it went in."""
        cleaned = super().clean() or {}
        fitted, removed = cleaned.get("fitted"), cleaned.get("removed")
        if fitted and removed and removed < fitted:
            self.add_error("removed", "It cannot come out before it went in.")
        return cleaned


class NewCellForm(CellForm):
    """The cell that goes in where another comes out; the gas stays, so it is not asked."""

    def __init__(self, *args: Any, old: Cell, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.old = old
        del self.fields["gas"], self.fields["removed"]
        self.fields["fitted"].required = True

    def clean_fitted(self) -> date | None:
        """Refuse a day before the old cell went in."""
        day = super().clean_fitted()
        if self.old.fitted and day and day < self.old.fitted:
            raise forms.ValidationError(f"The old cell went in on {date_in_words(self.old.fitted)}, after that day.")
        return day


class SaleForm(VersionedModelForm):
    """To whom an analyzer went, and who there agreed to what is due for it."""

    agreed_by = forms.CharField(
        label="Who at the new owner agreed to the due dates",
        max_length=120,
        required=False,
        help_text="Leave it empty when nobody did: what is due for this analyzer then ends. The history keeps it.",
    )

    class Meta:
        """The owner alone; the list to choose from is a search beside the form."""

        model = Analyzer
        fields = ("owner",)
        widgets: ClassVar[dict[str, Any]] = {"owner": forms.HiddenInput}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choice: Any = self.fields["owner"]
        choice.queryset = Owner.objects.filter(merged_into=None)
        choice.error_messages |= {"invalid_choice": "This owner is not on file any more. Choose again."}
        if not self.instance.obligations.exists():
            del self.fields["agreed_by"]


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
        help_texts: ClassVar[dict[str, Any]] = {
            "next_due": "Leave it empty: it follows from the last day it was done. Signing brings it forward."
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["agreed_by"].required = True
        self.fields["agreed_by"].help_text = "Who at the owner agreed. Without it no paper carries a due date."

    def clean_months(self) -> int:
        """Refuse an interval that the papers cannot print."""
        months: int = self.cleaned_data["months"]
        if not 1 <= months <= 120:
            raise forms.ValidationError("Give a whole number of months from 1 to 120.")
        return months

    def clean_agreed_on(self) -> date | None:
        """Refuse a day that has not come yet."""
        return not_to_come(self.cleaned_data["agreed_on"])

    def clean_last_done(self) -> date | None:
        """Refuse a day that has not come yet."""
        return not_to_come(self.cleaned_data["last_done"])

    def clean(self) -> dict[str, Any]:
        """Let the next day follow from the last one where nobody typed another."""
        cleaned = super().clean() or {}
        changed = set(self.changed_data)
        follows = not cleaned.get("next_due") or ("next_due" not in changed and bool(changed & _THE_RULE))
        if not self.errors and cleaned.get("last_done") and follows:
            rule = Obligation(**{name: cleaned[name] for name in ("months", "rule", "agreed_by")})
            cleaned["next_due"] = next_due(rule, cleaned["last_done"])
        return cleaned


def _is_month_or_day(text: str) -> bool:
    parts = _MADE.fullmatch(text)
    try:
        return parts is not None and bool(date(int(parts[1]), int(parts[2]), int(parts[3] or 1)))
    except ValueError:
        return False
