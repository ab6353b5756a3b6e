"""What a reference is worth after all: its certificate's values as they should have stood, since when, how found."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils import timezone

from flueproof.shop.frame.forms.certificate import (
    GAS_IN_WORDS,
    GASES,
    PARTS,
    certificate_fields,
    content_of,
    read_certificate,
    typed_of,
)
from flueproof.shop.records.models import Reference

_OTHERS = ("since", "shift", "how")


class WrongForm(forms.Form):
    """The right values of one reference; what the certificate said stands in the fields to begin with."""

    since = forms.DateField(
        label="Wrong since",
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        input_formats=["%Y-%m-%d"],
        help_text="Empty: from its first use. Then every visit that used it is judged again.",
    )
    how = forms.CharField(
        label="How it was found",
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="Which new certificate, which comparison, by whom. It stands in the record and an assessor reads it.",
    )

    def __init__(self, *args: Any, reference: Reference, **options: Any) -> None:
        super().__init__(*args, **options)
        self.reference = reference
        self.names = certificate_fields(reference.kind)
        self.fields |= self.names
        if reference.kind != "test-gas":
            self.fields["shift"] = forms.FloatField(
                label=f"To be added to every value it gave, in {reference.content.get('unit', 'its unit')}",
                required=False,
                initial=0.0,
                widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
                help_text="It showed 0.8 too much: write -0.8.",
            )
        self.initial.update(typed_of(reference.kind, reference.content))
        self.initial.setdefault("since", None)

    def clean_since(self) -> Any:
        """Refuse a day that has not been."""
        day = self.cleaned_data["since"]
        if day is not None and day > timezone.localdate():
            raise forms.ValidationError("This day has not been yet.")
        return day

    def clean(self) -> dict[str, Any]:
        """Build the right content, as a bench record would read it; what no field carries stays as it was."""
        values: dict[str, Any] = super().clean() or self.cleaned_data
        if set(self.names) & set(self.errors):
            return values
        old = self.reference.content
        content = {key: old[key] for key in old if key not in self._carried()} | content_of(self.reference.kind, values)
        _, faults = read_certificate(content, set(self.names))
        for fault in faults:
            if fault.field is None or fault.field not in self.errors:
                self.add_error(fault.field, fault.message)
        values["content"] = old if _same(content, old) else content
        return values

    def _carried(self) -> set[str]:
        return {"components"} | set(self.names) if self.reference.kind == "test-gas" else set(self.names)

    def gas_rows(self) -> list[dict[str, Any]]:
        """Return one row a gas: bound fields, and what the certificate says in words."""
        parts = self.reference.content.get("components", {})
        return [
            {"gas": GAS_IN_WORDS[gas], "said": _said(parts.get(gas)), "cells": [self[f"{gas}_{one}"] for one in PARTS]}
            for gas in GASES
        ]

    def certificate_parts(self) -> list[dict[str, Any]]:
        """Return the other fields of the certificate, each with what it says now."""
        in_table = {f"{gas}_{part}" for gas in GASES for part in PARTS} if self.reference.kind == "test-gas" else set()
        said = typed_of(self.reference.kind, self.reference.content)
        return [{"field": self[name], "said": said.get(name, "")} for name in self.names if name not in in_table]


def _said(part: dict[str, Any] | None) -> str:
    if not part:
        return "not named"
    wide = part.get("expanded_uncertainty")
    return f"{part['value']:g} {part['unit']}" + (f" ± {wide:g}" if wide is not None else "")


def _same(one: Any, other: Any) -> bool:
    """Tell whether two contents say the same: 500 is 500.0, an empty part is none."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(_same(one[key], other[key]) for key in one)
    return bool(one == other)
