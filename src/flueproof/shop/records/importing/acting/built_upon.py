"""What has been built since on the rows an import made: jobs, cells, people, changes by hand."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import reduce
from operator import or_
from typing import Any, Final

from django.db.models import Q

from flueproof.shop.records.importing.acting.writing import MADE
from flueproof.shop.records.models import Analyzer, ImportRun, Obligation

_CHANGED: Final = "changed since"
_EXAMPLES: Final = 20


@dataclass(slots=True)
class Standing:
    """What stays when an import is taken back: name in MADE -> key -> why, in words."""

    why: dict[str, dict[int, set[str]]] = field(default_factory=lambda: {name: {} for name in MADE})

    def note(self, name: str, key: int, reason: str) -> None:
        """Note why one row stays."""
        self.why[name].setdefault(key, set()).add(reason)

    def stays(self, name: str) -> set[int]:
        """Return the keys of the rows of one kind that stay."""
        return set(self.why[name])

    def __bool__(self) -> bool:
        """Return True when anything stays."""
        return any(self.why.values())


def made_rows(run: ImportRun, name: str) -> Any:
    """Return the rows of one kind that an import made and that are still there."""
    spans = run.made.get(name, [])
    rows: Any = MADE[name].objects
    return rows.filter(_within("pk", spans)) if spans else rows.none()


def standing(run: ImportRun) -> Standing:
    """Return what of an import stays since something has been built on it, with the reasons.

    A row stays when it was changed since, or when a row that the import did not make leads to it. With an analyzer
    stay its dates and its owner, with an owner its people and addresses.
    """
    found = Standing()
    for name in MADE:
        for key in made_rows(run, name).filter(version__gt=1).values_list("pk", flat=True):
            found.note(name, key, _CHANGED)
    for name in ("analyzers", "owners"):
        _note_what_leads_here(run, name, found)
    _carry(run, found)
    return found


def in_words(run: ImportRun, found: Standing) -> list[str]:
    """Return the analyzers and owners that stay, with why, at most twenty, in sentences without a full stop."""
    said = []
    for name in ("analyzers", "owners"):
        why = found.why[name]
        rows = made_rows(run, name).filter(pk__in=list(why)[:_EXAMPLES])
        said += [f"{row} stays: {', '.join(sorted(why[row.pk]))}" for row in rows]
    for name, called in (("contacts", "person"), ("addresses", "address")):
        alone = [key for key, why in found.why[name].items() if _CHANGED in why]
        said += [f"{row} stays: {called} {_CHANGED}" for row in made_rows(run, name).filter(pk__in=alone[:_EXAMPLES])]
    return said[:_EXAMPLES]


def _within(field_name: str, spans: list[list[int]]) -> Q:
    return reduce(or_, (Q(**{f"{field_name}__gte": first, f"{field_name}__lte": last}) for first, last in spans))


def _note_what_leads_here(run: ImportRun, name: str, found: Standing) -> None:
    spans = run.made.get(name, [])
    if not spans:
        return
    for relation in MADE[name]._meta.get_fields(include_hidden=True):  # noqa: SLF001 -- Django's documented model API
        other: Any = relation.related_model
        if not (relation.auto_created and not relation.concrete) or hasattr(other, "history_type"):
            continue
        way = relation.field.attname  # type: ignore[union-attr] # a reverse relation has the field it comes from
        rows = other._base_manager.filter(_within(way, spans))  # noqa: SLF001 -- same
        ours = next((mine for mine, model in MADE.items() if model is other), "")
        if ours and run.made.get(ours):
            rows = rows.exclude(_within("pk", run.made[ours]))
        for key in set(rows.values_list(way, flat=True)):
            called = str(other._meta.verbose_name)  # noqa: SLF001 -- same
            found.note(name, key, f"has {'an' if called[0] in 'aeiou' else 'a'} {called}")


def _carry(run: ImportRun, found: Standing) -> None:
    """What stays keeps what it stands on, and what belongs to it."""
    _follow(found, "obligations", Obligation, "analyzer_id", "analyzers", "has dates that were changed")
    _follow(found, "analyzers", Analyzer, "owner_id", "owners", "has an analyzer that stays")
    for name in ("contacts", "addresses"):
        _follow(found, name, MADE[name], "owner_id", "owners", f"has {name} that were changed")
    ours = {name: set(made_rows(run, name).values_list("pk", flat=True)) for name in ("owners", "analyzers")}
    for name in ("owners", "analyzers"):
        found.why[name] = {key: why for key, why in found.why[name].items() if key in ours[name]}
    for name, way, above in (
        ("obligations", "analyzer_id", "analyzers"),
        ("contacts", "owner_id", "owners"),
        ("addresses", "owner_id", "owners"),
    ):
        for key in made_rows(run, name).filter(**{f"{way}__in": found.stays(above)}).values_list("pk", flat=True):
            found.note(name, key, "belongs to what stays")


def _follow(found: Standing, name: str, model: Any, way: str, above: str, reason: str) -> None:
    for key in model.objects.filter(pk__in=found.stays(name)).values_list(way, flat=True):
        found.note(above, key, reason)
