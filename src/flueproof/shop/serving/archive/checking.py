"""Looking at a backup file before anything is touched: whole, of our format, of tables that we know."""

from __future__ import annotations

import hashlib
import json
import zipfile
import zlib
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from django.db.migrations.loader import MigrationLoader

from flueproof.shop.serving.archive.contents import FORMAT, archived_models
from flueproof.shop.serving.archive.writing import MANIFEST, member_of
from flueproof.shop.serving.errors import ServingError

_PIECE: Final = 2**20
_UNREADABLE: Final = (OSError, EOFError, zipfile.BadZipFile, zlib.error, RuntimeError)


class RestoreError(ServingError):
    """Why a backup cannot be restored; nothing was changed."""


@dataclass(frozen=True, slots=True)
class Checked:
    """A file whose every table is as its manifest says.

    tables: label -> rows and SHA-256; schema: its migrations, app/name; is_older: some of today's are not among them.
    """

    source: Path
    tables: dict[str, dict[str, Any]]
    schema: list[str]
    is_older: bool


def check_backup(source: Path) -> Checked:
    """Return a backup that can be restored by this version, its own or an older one's; reads no database.

    Raises: RestoreError.
    """
    here = sorted(f"{app}/{name}" for app, name in MigrationLoader(None, ignore_no_migrations=True).disk_migrations)
    try:
        with zipfile.ZipFile(source) as archive:
            manifest = _manifest(archive)
            _refuse_unknown_tables(manifest, here)
            for label, said in manifest["tables"].items():
                _refuse_damage(archive, label, said)
    except _UNREADABLE as error:
        raise RestoreError(
            f"{source.name} cannot be read as a backup ({error})", "Name a file that flueproof backup wrote."
        ) from error
    return Checked(source, manifest["tables"], manifest["schema"], manifest["schema"] != here)


def _manifest(archive: zipfile.ZipFile) -> dict[str, Any]:
    try:
        manifest: dict[str, Any] = json.loads(archive.read(MANIFEST))
        given = manifest["format"]
    except (KeyError, TypeError, ValueError) as error:
        raise RestoreError(
            "the file has no manifest of a backup", "Name a file that flueproof backup wrote."
        ) from error
    if given != FORMAT:
        raise RestoreError(f"the backup's format is {given!r}", f"This Flueproof reads {FORMAT}.")
    if not _is_whole(manifest):
        raise RestoreError("the manifest of the backup is not whole", "Use another backup.")
    return manifest


def _is_whole(manifest: dict[str, Any]) -> bool:
    tables, schema = manifest.get("tables"), manifest.get("schema")
    if not isinstance(tables, dict) or not isinstance(schema, list):
        return False
    return all(
        isinstance(said, dict) and isinstance(said.get("rows"), int) and isinstance(said.get("sha256"), str)
        for said in tables.values()
    )


def _refuse_unknown_tables(manifest: dict[str, Any], here: list[str]) -> None:
    known = {model._meta.label_lower for model in archived_models()}  # noqa: SLF001 -- Django's documented model API
    same = manifest["schema"] == here
    if not set(manifest["schema"]) <= set(here) or (same and not set(manifest["tables"]) <= known):
        writer = manifest.get("flueproof", "?")
        raise RestoreError(
            f"the backup was written by Flueproof {writer} with tables that this one does not have",
            "Restore it with that version or a newer one.",
        )


def _refuse_damage(archive: zipfile.ZipFile, label: str, said: dict[str, Any]) -> None:
    digest, rows = hashlib.sha256(), 0
    try:
        with archive.open(member_of(label)) as lines:
            while piece := lines.read(_PIECE):
                digest.update(piece)
                rows += piece.count(b"\n")
    except KeyError:
        rows = -1
    if digest.hexdigest() != said["sha256"] or rows != said["rows"]:
        raise RestoreError(f"{label}: the file was damaged or changed after it was written", "Use another backup.")
