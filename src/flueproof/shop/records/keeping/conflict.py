"""Two people change the same thing: the second sees the first one's change, and nothing is lost."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import models, transaction


@dataclass(frozen=True, slots=True)
class Difference:
    """One field that someone else changed meanwhile.

    mine: what this person wants to write, None when they did not touch the field; clash: both changed it.
    """

    field: str
    label: str
    before: Any
    theirs: Any
    mine: Any
    clash: bool


class EditConflict(Exception):  # noqa: N818 -- it is an event between two people, not a fault
    """The row was changed after this person read it; carries what changed, by whom and when."""

    def __init__(self, current: Any, differences: list[Difference], by: str, at: datetime | None) -> None:
        """Hold the row as it is now and what differs."""
        super().__init__(f"{current} was changed meanwhile")
        self.current = current
        self.differences = differences
        self.by = by
        self.at = at


def save_if_unchanged(row: models.Model, seen_version: int, wanted: dict[str, Any]) -> Any:
    """Write `wanted` to the row when its version is still `seen_version`; return the saved row.

    row: any instance of the row (only its key is used); wanted: field name -> new value.
    Raises: EditConflict, with nothing written.
    """
    model: Any = type(row)
    with transaction.atomic():
        current = model.objects.select_for_update().get(pk=row.pk)
        if current.version != seen_version:
            raise conflict_of(current, seen_version, wanted)
        for name, value in wanted.items():
            setattr(current, name, value)
        current.save()
    return current


def conflict_of(current: Any, seen_version: int, wanted: dict[str, Any]) -> EditConflict:
    """Return the conflict between what stands now and what someone who saw `seen_version` wants."""
    base = current.history.filter(version=seen_version).order_by("-history_id").first()
    latest = current.history.order_by("-history_id").first()
    differences = []
    for field in current._meta.concrete_fields:  # noqa: SLF001 -- Django's documented model API
        if field.name in {"id", "version", "changed_at"}:
            continue
        before, theirs = getattr(base, field.attname, None), getattr(current, field.attname)
        touched = field.name in wanted and _stored(field, wanted[field.name]) != before
        if theirs == before and not touched:
            continue
        if theirs != before:
            mine = wanted[field.name] if touched else None
            clash = touched and _stored(field, wanted[field.name]) != theirs
            differences.append(Difference(field.name, str(field.verbose_name), before, theirs, mine, clash))
    user = getattr(latest, "history_user", None)
    return EditConflict(current, differences, str(user or "someone"), getattr(latest, "history_date", None))


def _stored(field: Any, value: Any) -> Any:
    return value.pk if isinstance(value, models.Model) else field.to_python(value)
