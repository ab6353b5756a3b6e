"""Keeping the search keys in step with the rows they lead to."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import islice
from typing import Any, Final

from django.db import connections, router, transaction

from flueproof.shop.records.finding.texts import KINDS, Kind, keys_of, kind_of
from flueproof.shop.records.models import SearchKey

_ROWS_AT_ONCE: Final = 500
_KEYS_AT_ONCE: Final = 500


def reindex(rows: Iterable[Any]) -> int:
    """Write the search keys of rows anew and return how many rows were searched; others are passed over.

    A bulk write (an import, its undo) calls this with what it wrote, in its own transaction: Django sends no signal.
    """
    done = 0
    for batch in _batches(iter(rows), _ROWS_AT_ONCE):
        found = [(kind, row) for row in batch if (kind := kind_of(row)) is not None]
        with transaction.atomic():
            for name in {kind.name for kind, _ in found}:
                targets = [row.pk for kind, row in found if kind.name == name]
                SearchKey.objects.filter(kind=name, target__in=targets).delete()
            _insert(found)
        done += len(found)
    return done


def keep_in_step(row: Any) -> None:
    """Write the keys of one row that was saved, when they differ from those kept."""
    kind = kind_of(row)
    if kind is None:
        return
    kept = SearchKey.objects.filter(kind=kind.name, target=row.pk)
    if set(kept.values_list("key", "weight")) == keys_of(row):
        return
    with transaction.atomic():
        kept.delete()
        _insert([(kind, row)])


def forget(row: Any) -> None:
    """Remove the keys of a row that is gone."""
    kind = kind_of(row)
    if kind is not None:
        SearchKey.objects.filter(kind=kind.name, target=row.pk).delete()


def reindex_everything(tell: Callable[[str, int], None]) -> None:
    """Write all keys anew, one kind at a time, each in one transaction; `tell` hears the kind and its rows."""
    for kind in KINDS.values():
        with transaction.atomic():
            SearchKey.objects.filter(kind=kind.name).delete()
            done = 0
            for batch in _batches(kind.model.objects.order_by("pk").iterator(_ROWS_AT_ONCE), _ROWS_AT_ONCE):
                _insert([(kind, row) for row in batch])
                done += len(batch)
        tell(kind.name, done)


def _insert(found: list[tuple[Kind, Any]]) -> None:
    """Write the keys of rows; plain statements, since a row has many keys and an object for each costs too much."""
    keys = ((key, kind.name, row.pk, weight) for kind, row in found for key, weight in sorted(keys_of(row)))
    database = router.db_for_write(SearchKey)
    table = connections[database].ops.quote_name(SearchKey._meta.db_table)  # noqa: SLF001 -- Django's documented model API
    with connections[database].cursor() as cursor:
        for batch in _batches(keys, _KEYS_AT_ONCE):
            holes = ", ".join(["(%s, %s, %s, %s)"] * len(batch))
            values = [value for key in batch for value in key]
            cursor.execute(f"INSERT INTO {table} (key, kind, target, weight) VALUES {holes}", values)  # noqa: S608


def _batches(rows: Iterator[Any], size: int) -> Iterator[list[Any]]:
    while batch := list(islice(rows, size)):
        yield batch
