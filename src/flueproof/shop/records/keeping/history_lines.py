"""The history of a row as lines: who, when, which field, from what, to what; bulk writes and imports included."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

from flueproof.shop.records.keeping.field_words import (
    EMPTY,
    gas_in_words,
    in_words,
    kept_fields,
    label_of,
    moment_in_words,
)

NOBODY: Final = "the program"
_VERBS: Final = {"+": "added", "~": "changed", "-": "removed"}

_KINDS: Final = {"obligation": "due date", "contact": "person"}  # what the pages call them


@dataclass(frozen=True, slots=True)
class HistoryLine:
    """One change: `field` is empty for a row added or removed as a whole; why: such as "import owners.csv".

    For a row that belongs to this one (a contact, a cell) and was added or removed, after or before hold all of it.
    """

    at: datetime
    moment: str
    who: str
    verb: str
    what: str
    field: str
    before: str
    after: str
    why: str


def history_lines(row: Any, children: Iterable[str] = (), most: int = 200) -> list[HistoryLine]:
    """Return the changes of a row, the newest first.

    children: names of reverse relations whose rows belong to this one (`contacts`, `cells`), removed ones included;
    most: of each kind of row the latest so many history rows are read.
    """
    found = _lines_of(type(row), {"id": row.pk}, "", most)
    for name in children:
        relation: Any = row._meta.get_field(name)  # noqa: SLF001 -- Django's documented model API
        kind = str(relation.related_model._meta.verbose_name).removeprefix("owner ")  # noqa: SLF001 -- same
        kind = _KINDS.get(kind, kind)
        found += _lines_of(relation.related_model, {relation.field.attname: row.pk}, kind, most)
    return sorted(found, key=lambda line: line.at, reverse=True)


def _lines_of(model: Any, wanted: dict[str, Any], kind: str, most: int) -> list[HistoryLine]:
    """Compare each history row with the one before of the same key; rows of one query, the oldest first."""
    rows = list(model.history.filter(**wanted).select_related("history_user").order_by("-history_id")[: most + 1])
    cut = len(rows) > most
    before: dict[int, Any] = {}
    lines: list[HistoryLine] = []
    for position, entry in enumerate(reversed(rows)):
        last = before.get(entry.id)
        before[entry.id] = entry
        if cut and position == 0:
            continue  # only there to compare with
        lines += _changes(model, last, entry, kind, whole=last is None)
    return lines


def _changes(model: Any, last: Any, entry: Any, kind: str, *, whole: bool) -> list[HistoryLine]:
    what = f"{kind} {_name_of(entry)}".strip() if kind else ""
    if entry.history_type == "-":
        return [_line(entry, what, "", _all_of(model, entry) if kind else "", "")]
    if whole:
        return [_line(entry, what, "", "", _all_of(model, entry) if kind else _name_of(entry))]
    return [
        _line(entry, what, label_of(field), in_words(field, was), in_words(field, now))
        for field in kept_fields(model)
        if (was := getattr(last, field.attname)) != (now := getattr(entry, field.attname))
    ]


def _line(entry: Any, what: str, field: str, before: str, after: str) -> HistoryLine:
    return HistoryLine(
        at=entry.history_date,
        moment=moment_in_words(entry.history_date),
        who=str(entry.history_user or NOBODY),
        verb=_VERBS[entry.history_type],
        what=what,
        field=field,
        before=before,
        after=after or (EMPTY if field else ""),
        why=entry.history_change_reason or "",
    )


def _name_of(entry: Any) -> str:
    """Return how the row was called then: history rows carry the fields, not the methods."""
    gas = gas_in_words(getattr(entry, "gas", ""))
    for name in ("name", "serial", "number", "label", "what", "code", "title", "lines"):
        if text := getattr(entry, name, ""):
            return f"{gas} {text}".strip()
    return gas


def _all_of(model: Any, entry: Any) -> str:
    """Return all that stood in a row: "Phone: 555-0100, What for: office"; links to other rows are left out."""
    return ", ".join(
        f"{label_of(field)}: {in_words(field, value)}"
        for field in kept_fields(model)
        if not field.is_relation and (value := getattr(entry, field.attname)) not in (None, "", [])
    )
