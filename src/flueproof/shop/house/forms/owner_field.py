"""A field in which a firm is typed as it is on file: its name, its customer number, or #key."""

from __future__ import annotations

import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from flueproof.shop.records.finding.searching import search
from flueproof.shop.records.finding.texts import OWNER
from flueproof.shop.records.keeping.plate_key import name_key
from flueproof.shop.records.models import Owner


class OwnerField(forms.CharField):
    """Turns typed text into an Owner or None; shows an owner as its name."""

    def prepare_value(self, value: Any) -> Any:
        """Return the text to show for an owner's key."""
        if isinstance(value, int):
            return _shown(Owner.objects.filter(pk=value).first())
        return _shown(value) if isinstance(value, Owner) else value

    def clean(self, value: Any) -> Any:
        """Return the owner.

        Raises: ValidationError, with what would fit.
        """
        text = str(super().clean(value) or "").strip()
        if not text:
            return None
        if key := re.fullmatch(r"#(\d{1,18})", text):
            found = list(Owner.objects.filter(pk=int(key[1])))
        else:
            found = list(Owner.objects.filter(number=text)[:9])
            found = found or list(Owner.objects.filter(name_key=name_key(text) or "-")[:9])
        if len(found) == 1:
            return found[0]
        others = found or [hit.row for group in search(text).groups if group.kind == OWNER for hit in group.hits]
        raise ValidationError(_which(text, others))


def _shown(owner: Owner | None) -> str:
    if owner is None:
        return ""
    alone = Owner.objects.filter(name_key=owner.name_key).count() == 1
    return owner.name if alone else f"#{owner.pk}"


def _which(text: str, others: list[Owner]) -> str:
    if not others:
        return f"No owner on file is called {text}. Add the firm at the Counter first."
    listed = "; ".join(f"{owner.name} (#{owner.pk})" for owner in others[:8])
    return f"Which one? Type the number with its #: {listed}."
