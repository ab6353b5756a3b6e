"""Restoring a backup into an empty place: all of it, checked, or nothing."""

from __future__ import annotations

import contextlib
import hashlib
import zipfile
from collections.abc import Callable, Iterator
from typing import Any

from django.core.exceptions import ValidationError
from django.core.management.color import no_style
from django.db import DatabaseError, connection, models, transaction

from flueproof.shop.records.models import Blob, Person, Shop, Visit
from flueproof.shop.records.visits.chain import broken_links
from flueproof.shop.serving.archive.checking import Checked, RestoreError
from flueproof.shop.serving.archive.contents import archived_models, line_as_row
from flueproof.shop.serving.archive.writing import member_of

_BATCH = 500


def restore_backup(
    backup: Checked, progress: Callable[[str, int], None] = lambda _table, _rows: None
) -> dict[str, int]:
    """Read a backup into the empty database, check it, and return rows by table.

    Raises: RestoreError, with the database as empty as before.
    """
    _refuse_a_full_place()
    try:
        with (
            zipfile.ZipFile(backup.source) as archive,
            transaction.atomic(),
            _times_as_written(),
            connection.constraint_checks_disabled(),
        ):
            counts = _read_tables(archive, backup, progress)
            connection.check_constraints()
            _reset_sequences()
            _check_content()
    except (AttributeError, KeyError, TypeError, ValueError, ValidationError) as error:
        raise RestoreError(f"a row of the backup cannot be read ({error})", "Use another backup.") from error
    except DatabaseError as error:
        raise RestoreError(f"the database refused a row ({error})", "Use another backup.") from error
    return counts


def _refuse_a_full_place() -> None:
    if Person.objects.exists() or Visit.objects.exists() or Shop.objects.filter(version__gt=1).exists():
        raise RestoreError("this place is not empty", "Name a new --data folder (or an empty database).")


def _read_tables(archive: zipfile.ZipFile, backup: Checked, progress: Callable[[str, int], None]) -> dict[str, int]:
    for model in (Shop, Shop.history.model):
        models.QuerySet(model)._raw_delete("default")  # noqa: SLF001 -- the row each new place makes
    counts = {}
    for model in archived_models():
        label = model._meta.label_lower  # noqa: SLF001 -- Django's documented model API
        counts[label] = _read_table(archive, model, label) if label in backup.tables else 0
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
def _times_as_written() -> Iterator[None]:
    """Keep `changed_at` and the like as they were, where Django would write the time of restoring."""
    clocks: list[Any] = [
        field
        for model in archived_models()
        for field in model._meta.concrete_fields  # noqa: SLF001
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


def _reset_sequences() -> None:
    """Let PostgreSQL go on numbering after the rows that were read."""
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), archived_models()):
            cursor.execute(statement)


def _check_content() -> None:
    for blob in Blob.objects.iterator(chunk_size=50):
        if hashlib.sha256(bytes(blob.content)).hexdigest() != blob.sha256:
            raise RestoreError(f"the file {blob.sha256[:12]} is not what its hash says", "Use another backup.")
    for visit in Visit.objects.iterator():
        if wrong := broken_links(visit):
            raise RestoreError(f"visit {visit}: {wrong[0]}", "Use another backup.")
