"""Restoring a backup into an empty place: all of it, checked, or nothing."""

from __future__ import annotations

import contextlib
import hashlib
import zipfile
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from django.core.exceptions import ValidationError
from django.core.management.color import no_style
from django.db import DatabaseError, connection, models, transaction

from flueproof.shop.records.visits.chain import broken_links
from flueproof.shop.serving.archive.checking import Checked, RestoreError
from flueproof.shop.serving.archive.contents import line_as_row
from flueproof.shop.serving.archive.tables import make_tables, refuse_a_full_place
from flueproof.shop.serving.archive.writing import member_of
from flueproof.shop.serving.preparing import bring_up_to_date

_BATCH = 500
_MADE_BY_THEMSELVES = ("records.shop", "records.historicalshop")  # the row that each new place makes


def restore_backup(
    backup: Checked, progress: Callable[[str, int], None] = lambda _table, _rows: None
) -> dict[str, int]:
    """Read a backup into an empty place, check it, bring it up to date, and return rows by table.

    Raises: RestoreError, with the place as empty as before.
    """
    registry = make_tables(backup)
    refuse_a_full_place()
    try:
        tables = {label: registry.get_model(label) for label in sorted(backup.tables)}
        with (
            zipfile.ZipFile(backup.source) as archive,
            transaction.atomic(),
            _times_as_written(tables.values()),
            connection.constraint_checks_disabled(),
        ):
            counts = _read_tables(archive, tables, progress)
            connection.check_constraints()
            _reset_sequences(tables.values())
            _check_content(registry)
    except (AttributeError, LookupError, TypeError, ValueError, ValidationError) as error:
        raise RestoreError(f"a row of the backup cannot be read ({error})", "Use another backup.") from error
    except DatabaseError as error:
        raise RestoreError(f"the database refused a row ({error})", "Use another backup.") from error
    bring_up_to_date()
    return counts


def _read_tables(
    archive: zipfile.ZipFile, tables: dict[str, Any], progress: Callable[[str, int], None]
) -> dict[str, int]:
    for label in _MADE_BY_THEMSELVES:
        models.QuerySet(tables[label])._raw_delete("default")  # noqa: SLF001 -- business rows refuse a delete in bulk
    counts = {}
    for label, model in tables.items():
        counts[label] = _read_table(archive, model, label)
        progress(label, counts[label])
    return counts


def _read_table(archive: zipfile.ZipFile, model: type[models.Model], label: str) -> int:
    rows = 0
    batch: list[Any] = []
    every: Any = models.QuerySet(model)
    with archive.open(member_of(label)) as lines:
        for line in lines:
            batch.append(line_as_row(model, line))
            rows += 1
            if len(batch) == _BATCH:
                every.bulk_create(batch)
                batch = []
    every.bulk_create(batch)
    return rows


@contextlib.contextmanager
def _times_as_written(tables: Iterable[Any]) -> Iterator[None]:
    """Keep `changed_at` and the like as they were, where Django would write the time of restoring."""
    clocks: list[Any] = [
        field
        for model in tables
        for field in model._meta.concrete_fields  # noqa: SLF001 -- Django's documented model API
        if getattr(field, "auto_now", False) or getattr(field, "auto_now_add", False)
    ]
    before = [(field, field.auto_now, field.auto_now_add) for field in clocks]
    for field in clocks:
        field.auto_now = field.auto_now_add = False
    try:
        yield
    finally:
        for field, now, now_add in before:
            field.auto_now, field.auto_now_add = now, now_add


def _reset_sequences(tables: Iterable[Any]) -> None:
    """Let PostgreSQL go on numbering after the rows that were read."""
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), list(tables)):
            cursor.execute(statement)


def _check_content(registry: Any) -> None:
    blobs: Any = models.QuerySet(registry.get_model("records.blob"))
    visits: Any = models.QuerySet(registry.get_model("records.visit"))
    for blob in blobs.iterator(chunk_size=50):
        if hashlib.sha256(bytes(blob.content)).hexdigest() != blob.sha256:
            raise RestoreError(f"the file {blob.sha256[:12]} is not what its hash says", "Use another backup.")
    for visit in visits.select_related("job").iterator():
        if wrong := broken_links(visit):
            raise RestoreError(f"{visit.job.number}, visit {visit.number}: {wrong[0]}", "Use another backup.")
