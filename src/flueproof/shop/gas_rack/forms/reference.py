"""Adding and changing a reference: what it is, where it stands, and its certificate."""

from __future__ import annotations

import re
from typing import Any, ClassVar, Final

from django import forms
from django.core.exceptions import ValidationError

from flueproof.shop.frame.forms.certificate import (
    GAS_IN_WORDS,
    GASES,
    PARTS,
    certificate_fields,
    content_of,
    read_certificate,
    typed_of,
)
from flueproof.shop.frame.forms.pressure import PressureField, gauge_unit
from flueproof.shop.records.gas.as_certified import last_good_day
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import Reference
from flueproof.testgas.cylinder import MINIMUM_KPA

_CODE: Final = re.compile(r"[^\s/?#%\\]{1,60}")
_OF_A_CYLINDER: Final = ("water_volume_l", "fill_kpa", "minimum_kpa", "price", "replaces")


class ReferenceForm(VersionedModelForm):
    """One reference of a kind; its content is validated by the bench record's own model."""

    fill_kpa = PressureField(label="Gauge when new", required=False)
    minimum_kpa = PressureField(label="Do not use below")
    content = forms.JSONField(required=False, widget=forms.HiddenInput)

    class Meta:
        """The fields of the row itself."""

        model = Reference
        fields = ("code", "title", "place", *_OF_A_CYLINDER)
        help_texts: ClassVar = {
            "code": "What the scanner reads from its label; it never changes.",
            "water_volume_l": "Stamped on the cylinder.",
            "price": "Of the filling. It makes the cost of a test.",
        }

    def __init__(self, *args: Any, kind: str, shop: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.kind = kind
        self.is_new = self.instance.pk is None
        del self.fields["content"]  # put back below, after the fields it is made of
        if not self.is_new:
            del self.fields["code"]
        if kind == "test-gas":
            self._prepare_cylinder(shop)
        else:
            for name in _OF_A_CYLINDER:
                del self.fields[name]
        self.fields |= certificate_fields(kind)
        self.fields["content"] = forms.JSONField(required=False, widget=forms.HiddenInput)
        if not self.is_new:
            self.initial.update(typed_of(kind, self.instance.content))

    def _prepare_cylinder(self, shop: Any) -> None:
        unit = gauge_unit(shop)
        for name in ("fill_kpa", "minimum_kpa"):
            field: Any = self.fields[name]
            field.unit = unit
            field.help_text = f"In {unit}, or with its unit."
        if self.is_new:
            self.initial.setdefault("minimum_kpa", MINIMUM_KPA)
        bottles = Reference.objects.filter(kind="test-gas").exclude(pk=self.instance.pk).order_by("code")
        replaces: Any = self.fields["replaces"]
        replaces.queryset, replaces.empty_label, replaces.label = bottles, "none", "Takes the place of"

    def clean_code(self) -> str:
        """Return the code as the scanner will read it; one that differs only in case is refused."""
        code = str(self.cleaned_data["code"]).strip()
        if not _CODE.fullmatch(code):
            raise ValidationError("Letters, digits and dashes; no spaces and none of / ? # % \\.")
        if Reference.objects.filter(code__iexact=code).exclude(code=code).exists():
            raise ValidationError("A reference with this code in other letters is there already.")
        return code

    def clean(self) -> dict[str, Any]:
        """Build the content from the certificate's fields and validate it as a bench record would."""
        values: dict[str, Any] = super().clean() or self.cleaned_data
        names = set(certificate_fields(self.kind))
        if names & set(self.errors):
            return values
        content = content_of(self.kind, values)
        found, faults = read_certificate(content, names)
        for fault in faults:
            if fault.field is None or fault.field not in self.errors:
                self.add_error(fault.field, fault.message)
        if found is not None:
            values["content"] = content
            values["good_until"] = last_good_day(found)
            if self.is_new:
                self.instance.kind, self.instance.content = self.kind, content
                self.instance.good_until = values["good_until"]
                self.instance.state = "new" if self.kind == "test-gas" else "in-use"
        return values

    def gas_rows(self) -> list[dict[str, Any]]:
        """Return one row of bound fields a gas, for the page."""
        return [{"gas": GAS_IN_WORDS[gas], "cells": [self[f"{gas}_{part}"] for part in PARTS]} for gas in GASES]

    def own_fields(self) -> list[Any]:
        """Return the bound fields of the row itself, without those of the certificate and the hidden ones."""
        names = set(certificate_fields(self.kind))
        return [one for one in self.visible_fields() if one.name not in names]

    def certificate_parts(self) -> list[Any]:
        """Return the bound fields of the certificate that are not in the table of gases."""
        in_table = {f"{gas}_{part}" for gas in GASES for part in PARTS} if self.kind == "test-gas" else set()
        return [self[name] for name in certificate_fields(self.kind) if name not in in_table]

    def _fill_with_merged(self, differences: Any) -> None:
        """Take over the certificate's values that the other changed and I did not touch."""
        posted: Any = self.data
        data = posted.copy()
        for item in differences:
            if item.field == "content":
                before, theirs = typed_of(self.kind, item.before or {}), typed_of(self.kind, item.theirs)
                for name, value in theirs.items():
                    if _same(data.get(self.add_prefix(name), ""), before.get(name, "")):
                        data[self.add_prefix(name)] = str(value)
        self.data = data
        super()._fill_with_merged([item for item in differences if item.field != "content"])


def _same(posted: str, value: Any) -> bool:
    """Tell whether what was posted is a value as the form showed it: 502 is 502.0."""
    try:
        return float(posted) == float(value)
    except (TypeError, ValueError):
        return posted == str(value)
