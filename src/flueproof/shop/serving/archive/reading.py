"""Restoring a backup into an empty place: all of it, checked, or nothing."""

from __future__ import annotations

import contextlib
import hashlib
import json
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from django.core.management.color import no_style
from django.db import DatabaseError, connection, models, transaction

from flueproof.shop.records.models import Blob, Person, Shop, Visit
from flueproof.shop.records.visits.chain import broken_links
from flueproof.shop.serving.archive.contents import FORMAT, archived_models, line_as_row, schema_of
from flueproof.shop.serving.archive.writing import MANIFEST, member_of
from flueproof.shop.serving.errors import ServingError

_BATCH = 500


class RestoreError(ServingError):
    """Why a backup cannot be restored; nothing was changed."""


def restore_backup(source: Path, progress: Callable[[str, int], None] = lambda _table, _rows: None) -> dict[str, int]:
    """Read a backup into the empty database, check it, and return rows by table.

    Raises: RestoreError, with the database as empty as before.
    """
    try:
        with zipfile.ZipFile(source) as archive:
            manifest = _manifest(archive)
            _refuse_what_does_not_fit(manifest)
            with transaction.atomic(), _times_as_written(), connection.constraint_checks_disabled():
                counts = _read_tables(archive, manifest, progress)
                connection.check_constraints()
                _reset_sequences()
                _check_content()
    except (OSError, zipfile.BadZipFile) as error:
        raise RestoreError(
            f"{source.name} cannot be read as a backup ({error})", "Name a file that backup wrote."
        ) from error
    except DatabaseError as error:
        raise RestoreError(f"the database refused a row ({error})", "Restore into an empty place.") from error
    return counts


def _manifest(archive: zipfile.ZipFile) -> dict[str, Any]:
    try:
        manifest: dict[str, Any] = json.loads(archive.read(MANIFEST))
    except (KeyError, ValueError) as error:
        raise RestoreError(
            "the file has no manifest of a backup", "Name a file that flueproof backup wrote."
        ) from error
    if manifest.get("format") != FORMAT:
        raise RestoreError(f"the backup's format is {manifest.get('format')!r}", f"This Flueproof reads {FORMAT}.")
    return manifest


def _refuse_what_does_not_fit(manifest: dict[str, Any]) -> None:
    if manifest["schema"] != schema_of("default"):
        raise RestoreError(
            f"the backup was written by Flueproof {manifest['flueproof']} with other tables than this one has",
            "Restore it with that version; then start this one on the same data, which brings it up to date.",
        )
    if Person.objects.exists() or Visit.objects.exists() or Shop.objects.filter(version__gt=1).exists():
        raise RestoreError("this place is not empty", "Name a new --data folder (or an empty database).")


def _read_tables(
    archive: zipfile.ZipFile, manifest: dict[str, Any], progress: Callable[[str, int], None]
) -> dict[str, int]:
    for model in (Shop, Shop.history.model):
        models.QuerySet(model)._raw_delete("default")  # noqa: SLF001 -- the row each new place makes
    counts = {}
    for model in archived_models():
        label = model._meta.label_lower  # noqa: SLF001
        said = manifest["tables"].get(label, {"rows": 0, "sha256": hashlib.sha256().hexdigest()})
        digest, rows = hashlib.sha256(), 0
        batch: list[Any] = []
        every: Any = models.QuerySet(model)
        with archive.open(member_of(model)) if said["rows"] else contextlib.nullcontext(()) as lines:
            for line in lines:
                digest.update(line)
                batch.append(line_as_row(model, line))
                rows += 1
                if len(batch) == _BATCH:
                    every.bulk_create(batch)
                    batch = []
        every.bulk_create(batch)
        if digest.hexdigest() != said["sha256"] or rows != said["rows"]:
            raise RestoreError(f"{label}: the file was damaged or changed after it was written", "Use another backup.")
        counts[label] = rows
        progress(label, rows)
    return counts


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
