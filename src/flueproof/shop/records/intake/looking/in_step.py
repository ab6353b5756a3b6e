"""The index of the file is kept in memory and follows the database: each change is in the history, so none is missed.

A look costs four rows (the last of each history). What changed since the index was made lies in a small index beside
it, until so much has changed that the whole is made anew.
"""

from __future__ import annotations

import threading
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Final

from django.db import connection

from flueproof.intake.file.file_index import FileIndex
from flueproof.intake.file.on_file import OwnerOnFile
from flueproof.shop.records.intake.looking.rows import owners_read, plates_read
from flueproof.shop.records.models import Analyzer, Owner, OwnerAddress, OwnerContact

_WATCHED: Final = ((Owner, "id"), (OwnerContact, "owner_id"), (OwnerAddress, "owner_id"), (Analyzer, "owner_id"))
_FEW, _SHARE = 20, 0.02
_AT_ONCE: Final = 500
Mark = tuple[tuple[int, datetime | None], ...]


@dataclass(frozen=True, slots=True)
class KeptFile:
    """The index of all at one moment, and a small one of those owners that changed since.

    mark: the last row of each history when the small one was made; made_at: the same for the large one.
    """

    made_at: Mark
    mark: Mark
    whole: FileIndex
    changed: frozenset[int] = frozenset()
    beside: FileIndex = field(default_factory=lambda: FileIndex([], []))


_lock = threading.Lock()
_kept: dict[str, KeptFile] = {}


def the_file() -> KeptFile:
    """Return the file as it stands now."""
    name = f"{connection.vendor} {connection.settings_dict['NAME']}"
    kept, mark = _kept.get(name), _mark()
    if kept is not None and kept.mark == mark:
        return kept
    with _lock:
        kept = _kept.get(name)
        if kept is None or kept.mark != mark:
            kept = _followed(kept, mark) if kept is not None and _goes_on(kept.made_at, mark) else _made(mark)
            _kept[name] = kept
    return kept


def _mark() -> Mark:
    return tuple(_last(model) for model, _ in _WATCHED)


def _last(model: Any) -> tuple[int, datetime | None]:
    row = model.history.order_by("-history_id").values_list("history_id", "history_date").first()
    return row or (0, None)


def _goes_on(before: Mark, after: Mark) -> bool:
    """Return True when the histories that the index was made from are still there, and only grew."""
    for (model, _), (number, day), (now, _) in zip(_WATCHED, before, after, strict=True):
        if number and (now < number or not model.history.filter(history_id=number, history_date=day).exists()):
            return False
    return True


def _made(mark: Mark) -> KeptFile:
    return KeptFile(mark, mark, FileIndex(list(owners_read().values()), plates_read()))


def _followed(kept: KeptFile, mark: Mark) -> KeptFile:
    changed = _changed_since(kept.made_at)
    if len(changed) > max(_FEW, _SHARE * len(kept.whole.keys)):
        return _made(mark)
    owners: list[OwnerOnFile] = list(owners_read(changed).values())
    stands = [int(str(owner.key)) for owner in owners]
    return KeptFile(kept.made_at, mark, kept.whole, frozenset(changed), FileIndex(owners, plates_read(stands)))


def _changed_since(before: Mark) -> set[int]:
    """Return the owners of which anything changed: also the one that an analyzer had before it was sold."""
    found: set[int] = set()
    units: set[int] = set()
    for (model, path), (number, _) in zip(_WATCHED, before, strict=True):
        rows = model.history.filter(history_id__gt=number).order_by()
        found |= set(rows.values_list(path, flat=True).distinct())
        if model is Analyzer:
            units = set(rows.values_list("id", flat=True).distinct())
    for some in _in_parts(units):
        found |= set(Analyzer.history.filter(id__in=some).order_by().values_list("owner_id", flat=True).distinct())
    layer = found
    while layer:
        into: set[int] = set()
        for some in _in_parts(layer):
            rows = Owner.objects.filter(pk__in=some).exclude(merged_into=None)
            into |= set(rows.values_list("merged_into_id", flat=True))
        layer = into - found
        found |= layer
    return found


def _in_parts(keys: set[int]) -> list[list[int]]:
    listed = sorted(keys)
    return [listed[start : start + _AT_ONCE] for start in range(0, len(listed), _AT_ONCE)]
