"""The value of a field in words: for history and for two people who changed the same thing."""

from __future__ import annotations

import datetime as dt
import json
from typing import Any, Final

from django.db import models
from django.utils import timezone

from flueproof.analyzer.profile_reader import shipped_profile, shipped_profile_names
from flueproof.papers.due import date_in_words

EMPTY: Final = "(empty)"
GAS_WORDS: Final = {"o2": "O₂", "co": "CO", "no": "NO", "no2": "NO₂", "so2": "SO₂", "co2": "CO₂", "h2": "H₂"}
# (model, field) -> what the pages call it, where the model's own name for it says less
_LABELS: Final = {
    ("analyzer", "profile"): "Service rules",
    ("cell", "removed"): "Taken out",
    ("obligation", "months"): "Every so many months",
    ("obligation", "rule"): "Due",
    ("ownercontact", "email"): "E-mail",
}


def moment_in_words(at: dt.datetime | None) -> str:
    """Return a moment in the zone in force: "25 November 2026, 09:00"; an empty text for none."""
    if at is None:
        return ""
    here = timezone.localtime(at) if timezone.is_aware(at) else at
    return f"{date_in_words(here.date())}, {here:%H:%M}"


def in_words(field: Any, value: Any) -> str:
    """Return what a person reads for a stored value (a foreign key as its number) of a model's field."""
    if value is None or value in ("", []):
        return EMPTY
    if field.is_relation:
        found = field.related_model._base_manager.filter(pk=value).first()  # noqa: SLF001 -- Django's documented API
        return str(found) if found is not None else f"no. {value}"
    if field.choices:
        return str(dict(field.flatchoices).get(value, value))
    if field.name == "gas":
        return gas_in_words(value)
    if field.name == "profile":
        return profile_in_words(value)
    return plain_words(value)


def gas_in_words(gas: str) -> str:
    """Return a gas as people write it: "O₂" for "o2"; one that is not in the list as it stands."""
    return GAS_WORDS.get(gas, gas)


def profile_in_words(name: str) -> str:
    """Return a profile as people read it: its title, "Two cells (O2, CO), stack, air and draft"; else its name."""
    return shipped_profile(name).title if name in shipped_profile_names() else name.replace("-", " ")


def plain_words(value: Any) -> str:
    """Return a value without a field in words."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dt.datetime):
        return moment_in_words(value)
    if isinstance(value, dt.date):
        return date_in_words(value)
    if isinstance(value, list) and all(isinstance(item, str) for item in value):
        return ", ".join(value)
    if isinstance(value, list | dict):
        return json.dumps(value, ensure_ascii=False)
    return str(value)


def label_of(field: Any) -> str:
    """Return a field's name as people read it, first letter large."""
    words = _LABELS.get((field.model._meta.model_name, field.name)) or str(field.verbose_name)  # noqa: SLF001 -- documented
    return words[:1].upper() + words[1:]


def kept_fields(model: type[models.Model]) -> list[Any]:
    """Return the fields whose changes people may read: editable and in the history (so no passwords)."""
    history: Any = model.history.model  # type: ignore[attr-defined] # every audited model has one
    return [
        field
        for field in history.tracked_fields
        if field.editable and not field.primary_key and field.name not in {"version", "changed_at"}
    ]
