"""Adding and changing a kind of part."""

from __future__ import annotations

import re
from typing import Any, Final

from django import forms
from django.core.exceptions import ValidationError

from flueproof.analyzer.profile_reader import shipped_profile_names
from flueproof.shop.records.keeping.field_words import profile_in_words
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import Analyzer, Part

_CODE: Final = re.compile(r"[^\s/?#%\\]{1,40}")
_GROUPS: Final = (
    ("The part", ("code", "title", "kind", "scan_code", "place", "in_use", "note")),
    ("What it fits", ("profiles", "models_fitted", "firmware", "firmware_way")),
    (
        "Age and supply",
        (
            "shelf_months",
            "supplier",
            "order_number",
            "lead_days",
            "late_days",
            "pack",
            "least_order",
            "price",
            "guess_a_year",
        ),
    ),
)


class PartForm(VersionedModelForm):
    """One kind of part."""

    profiles = forms.MultipleChoiceField(
        label="Fits the service rules",
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text="None ticked: fits all.",
    )
    models_fitted = forms.CharField(
        label="Fits the models",
        required=False,
        max_length=600,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text="One a line, as on the plate. Empty: fits all models.",
    )

    class Meta:
        """The fields of the row."""

        model = Part
        fields = tuple(name for _, names in _GROUPS for name in names)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        used = Analyzer.objects.order_by().values_list("profile", flat=True).distinct()
        names = dict.fromkeys([*shipped_profile_names(), *used, *(self.instance.profiles or [])])
        self.fields["profiles"].choices = [(name, profile_in_words(name)) for name in names]  # type: ignore[attr-defined]
        self.initial["models_fitted"] = "\n".join(self.instance.models_fitted or [])
        for name in ("note", "firmware_way"):
            self.fields[name].widget.attrs["rows"] = 2

    def clean_code(self) -> str:
        """Refuse signs that no scanner or address carries."""
        code = str(self.cleaned_data["code"]).strip()
        if not _CODE.fullmatch(code):
            raise ValidationError("A code has no spaces and none of / ? # % \\.")
        return code

    def clean_models_fitted(self) -> list[str]:
        """Return the models, one a line."""
        lines = self.cleaned_data["models_fitted"].splitlines()
        return list(dict.fromkeys(one.strip() for one in lines if one.strip()))

    def clean(self) -> dict[str, Any]:
        """A cell ages; a lead time that is late is longer than the usual one."""
        said = super().clean() or {}
        if said.get("kind") == "cell" and not said.get("shelf_months") and "shelf_months" not in self.errors:
            self.add_error("shelf_months", "A cell ages from manufacture: how many months may it lie?")
        late, usual = said.get("late_days"), said.get("lead_days")
        if late and usual is not None and late < usual:
            self.add_error("late_days", "Late is later than usual; 0 where it never is.")
        return said

    @property
    def groups(self) -> list[tuple[str, list[Any]]]:
        """Return the fields under their headings."""
        return [(heading, [self[name] for name in names]) for heading, names in _GROUPS]
