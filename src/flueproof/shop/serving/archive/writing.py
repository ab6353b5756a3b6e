"""Writing a backup, while the shop goes on working."""

from __future__ import annotations

import hashlib
import json
import os
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from importlib.metadata import version
from pathlib import Path
from typing import Any

from django.db import models

from flueproof.shop.serving.archive.contents import FORMAT, archived_models, row_as_line, schema_of
from flueproof.shop.serving.archive.snapshot import snapshot

MANIFEST = "manifest.json"


@dataclass(frozen=True, slots=True)
class Written:
    """What a backup holds: rows in all, tables, size of the file [bytes]."""

    rows: int
    tables: int
    size: int


def write_backup(
    target: Path, now: datetime, progress: Callable[[str, int], None] = lambda _table, _rows: None
) -> Written:
    """Write everything the shop keeps into one file, put in place only when it is whole.

    progress: told each table with its rows when it is done.
    """
    part = target.with_name(target.name + ".part")
    tables: dict[str, Any] = {}
    try:
        with snapshot() as alias, zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED, compresslevel=3) as archive:
            for model in archived_models():
                label = model._meta.label_lower  # noqa: SLF001 -- Django's documented model API
                tables[label] = _write_table(archive, model, alias)
                progress(label, tables[label]["rows"])
            manifest = {
                "format": FORMAT,
                "flueproof": version("flueproof"),
                "made_at": now.isoformat(),
                "schema": schema_of(alias),
                "tables": tables,
            }
            archive.writestr(MANIFEST, json.dumps(manifest, indent=1))
        with part.open("rb+") as handle:
            os.fsync(handle.fileno())
        part.replace(target)
    finally:
        part.unlink(missing_ok=True)
    return Written(sum(table["rows"] for table in tables.values()), len(tables), target.stat().st_size)


def _write_table(archive: zipfile.ZipFile, model: type[models.Model], alias: str) -> dict[str, Any]:
    digest, rows = hashlib.sha256(), 0
    label = model._meta.label_lower  # noqa: SLF001 -- Django's documented model API
    with archive.open(member_of(label), "w", force_zip64=True) as out:
        every: Any = models.QuerySet(model, using=alias)
        for row in every.order_by("pk").iterator(chunk_size=2000):
            line = row_as_line(row)
            digest.update(line)
            out.write(line)
            rows += 1
    return {"rows": rows, "sha256": digest.hexdigest()}


def member_of(label: str) -> str:
    """Return the name of a table inside the archive; label: app and model in small letters."""
    return f"tables/{label}.jsonl"
