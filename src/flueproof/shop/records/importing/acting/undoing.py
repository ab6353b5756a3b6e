"""Undoing an import: what it made is removed again, with history, unless something has been built on it since."""

from __future__ import annotations

import datetime as dt
from typing import Any, Final

from django.db import IntegrityError, transaction

from flueproof.shop.records.importing.acting.built_upon import Standing, in_words, made_rows, standing
from flueproof.shop.records.importing.acting.writing import MADE
from flueproof.shop.records.importing.errors import BuiltUponError, ImportRefusedError
from flueproof.shop.records.models import ImportRun, Person, SearchKey

_IN_TURN: Final = ("obligations", "contacts", "addresses", "analyzers", "owners")  # what stands on others goes first
_SEARCHED: Final = {"contacts": "contact", "analyzers": "analyzer", "owners": "owner"}
_AT_ONCE: Final = 1000


def undo_import(run: ImportRun, by: Person, now: dt.datetime, *, leave_used: bool = False) -> ImportRun:
    """Take back what an import made, in one transaction; an import that is undone stays as it is.

    leave_used: take back the rest and leave what something has been built on; without it nothing is taken back then.
    Raises: BuiltUponError, ImportRefusedError when the import was never done.
    """
    if run.done_at is None:
        raise ImportRefusedError("This import was never done, so there is nothing to take back.")
    try:
        with transaction.atomic():
            kept = ImportRun.objects.select_for_update().get(pk=run.pk)
            if kept.undone_at is None:
                _undo(kept, by, now, leave_used=leave_used)
    except IntegrityError as error:  # a job was opened between our look and our act
        raise BuiltUponError("Somebody began to use what the import made just now. Look again.") from error
    return kept


def _undo(run: ImportRun, by: Person, now: dt.datetime, *, leave_used: bool) -> None:
    found = standing(run)
    if found and not leave_used:
        some = "; ".join(in_words(run, found)[:3])
        raise BuiltUponError(f"Something has been built on this import since, so nothing was taken back. {some}.")
    for name in _IN_TURN:
        _remove(run, name, found, by, now)
    run.undone_at = now
    run.found = {**run.found, "left": {name: len(found.stays(name)) for name in MADE}}
    run.save(update_fields=["undone_at", "found"])


def _remove(run: ImportRun, name: str, found: Standing, by: Person, now: dt.datetime) -> None:
    stays = found.stays(name)
    gone = [key for key in made_rows(run, name).values_list("pk", flat=True) if key not in stays]
    rows: Any = MADE[name].objects
    for start in range(0, len(gone), _AT_ONCE):
        keys = gone[start : start + _AT_ONCE]
        rows.delete_by(keys, by, f"import {run.pk} undone", now)
        if name in _SEARCHED:
            SearchKey.objects.filter(kind=_SEARCHED[name], target__in=keys).delete()
