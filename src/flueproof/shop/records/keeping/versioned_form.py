"""A form that remembers which version it was filled from: two people editing one thing lose nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from django import forms
from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.db import models, transaction

from flueproof.shop.records.keeping.conflict import Difference, EditConflict, conflict_of
from flueproof.shop.records.keeping.field_words import in_words, kept_fields, label_of, moment_in_words

_OLD_PAGE: Final = "This page does not say which version it shows. Load it again; what you typed is still here to copy."


@dataclass(frozen=True, slots=True)
class ConflictRow:
    """One field that both or the other changed, in words; `mine` is empty where I did not touch it."""

    name: str
    label: str
    before: str
    theirs: str
    mine: str
    clash: bool


class VersionedModelForm(forms.ModelForm):  # type: ignore[type-arg] # not generic at run time
    """A model form with a hidden `seen_version`; save with `save_seen(by)` instead of `save()`.

    Someone else saved meanwhile and a field of this form is concerned: `save_seen` returns None, `conflict` says what
    changed, and the form stands filled with theirs where I did not touch and mine where I did; pressing again saves
    that. Include "frame/conflict.html" above the fields. Changes in fields outside this form disturb nobody; they
    are in `also_changed`, to be told.
    """

    seen_version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.conflict: EditConflict | None = None
        self.also_changed: list[ConflictRow] = []
        self.fields["seen_version"].initial = self.initial["seen_version"] = getattr(self.instance, "version", 0)

    def clean_seen_version(self) -> int:
        """Return the version; a page that does not send it back would overwrite blindly."""
        seen: int | None = self.cleaned_data.get("seen_version")
        if seen is None and self.instance.pk is not None:
            self.add_error(NON_FIELD_ERRORS, ValidationError(_OLD_PAGE))
        return seen or 0

    def wanted(self) -> dict[str, Any]:
        """Return field name -> new value of the model's own fields; a form with other fields adds theirs here."""
        own = {field.name for field in self.instance._meta.concrete_fields}  # noqa: SLF001 -- Django's documented API
        return {name: value for name, value in self.cleaned_data.items() if name in own}

    def save_seen(self, by: Any) -> Any | None:
        """Write what was typed and return the saved row, or None with `conflict` set and the form re-filled.

        by: the person, for the history. A row that already is as wanted is not written again.
        """
        if self.instance.pk is None:
            self.instance._history_user = by  # noqa: SLF001 -- the documented way of simple_history
            return self.save()
        wanted, seen = self.wanted(), self.cleaned_data["seen_version"]
        with transaction.atomic():
            current = type(self.instance).objects.select_for_update().get(pk=self.instance.pk)
            if all(_same(current, name, value) for name, value in wanted.items()):
                return current
            if current.version != seen and not self._passes(conflict_of(current, seen, wanted)):
                return None
            for name, value in wanted.items():
                setattr(current, name, value)
            current._history_user = by  # noqa: SLF001 -- the documented way of simple_history
            current.save()
        return current

    @property
    def conflict_rows(self) -> list[ConflictRow]:
        """Return what the other changed, in words, for the page."""
        return _rows(self.conflict) if self.conflict is not None else []

    @property
    def conflict_moment(self) -> str:
        """Return when the other saved, in words."""
        return moment_in_words(self.conflict.at) if self.conflict is not None else ""

    def _passes(self, conflict: EditConflict) -> bool:
        mine = [item for item in conflict.differences if item.field in self.fields]
        if not mine:
            self.also_changed = _rows(conflict)
            return True
        self.conflict = conflict
        self.instance = conflict.current
        self._fill_with_merged(mine)
        return False

    def _fill_with_merged(self, differences: list[Difference]) -> None:
        posted: Any = self.data
        data = posted.copy()
        for item in differences:
            if item.mine is None and not item.clash:
                _put(data, self[item.field], item.theirs)
        data[self.add_prefix("seen_version")] = str(self.instance.version)
        self.data = data


def _same(row: Any, name: str, value: Any) -> bool:
    field = row._meta.get_field(name)  # noqa: SLF001 -- Django's documented model API
    stored = value.pk if isinstance(value, models.Model) else field.to_python(value)
    return bool(stored == getattr(row, field.attname))


def _rows(conflict: EditConflict) -> list[ConflictRow]:
    fields = {field.name: field for field in kept_fields(type(conflict.current))}
    return [
        ConflictRow(
            item.field,
            label_of(fields[item.field]),
            in_words(fields[item.field], item.before),
            in_words(fields[item.field], item.theirs),
            "" if item.mine is None else in_words(fields[item.field], _key(item.mine)),
            item.clash,
        )
        for item in conflict.differences
        if item.field in fields
    ]


def _key(value: Any) -> Any:
    return value.pk if isinstance(value, models.Model) else value


def _put(data: Any, bound: Any, value: Any) -> None:
    """Write a stored value into posted data, as the field's own widget would have sent it."""
    if isinstance(bound.field, forms.BooleanField):
        data.pop(bound.html_name, None)
        if value:
            data[bound.html_name] = "on"
        return
    shown = bound.field.prepare_value(value)
    if isinstance(shown, list | tuple) and hasattr(data, "setlist"):
        data.setlist(bound.html_name, [str(item) for item in shown])
    else:
        data[bound.html_name] = "" if shown is None else bound.field.widget.format_value(shown)
