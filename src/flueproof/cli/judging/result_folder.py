"""A folder of papers that is there as a whole or not at all."""

from __future__ import annotations

import contextlib
import os
import secrets
import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from flueproof.cli.words.faults import Refusal

JUDGEMENT_FILE: Final = "judgement.json"
_OUR_SUFFIXES: Final = frozenset({".pdf", ".zpl", ".json"})


def folder_for(out: Path, record_name: str) -> Path:
    """Return the folder that the papers of a record go to: its name without .json.

    Raises: Refusal when nothing is left of the name.
    """
    stem = record_name[:-5] if record_name.lower().endswith(".json") else record_name
    if not stem.strip(". ") or Path(stem).name != stem:
        raise Refusal("$", f"no folder can be named after a record called {record_name!r}.", "Rename the record.")
    return out / stem


def refuse_existing(folder: Path, *, overwrite: bool) -> None:
    """Refuse a folder that is there, unless it is to be replaced and holds nothing but an earlier result.

    Raises: Refusal.
    """
    if not os.path.lexists(folder):
        return
    if not overwrite:
        raise Refusal("$", f"{folder} exists already.", "Give another --out, remove it, or add --overwrite.")
    if not _is_earlier_result(folder):
        raise Refusal(
            "$",
            f"{folder} holds something else than papers of an earlier run and is not replaced.",
            "Give another --out or move it away.",
        )


def _is_earlier_result(folder: Path) -> bool:
    if folder.is_symlink() or not folder.is_dir():
        return False
    files = list(folder.iterdir())
    return any(file.name == JUDGEMENT_FILE for file in files) and all(
        file.suffix in _OUR_SUFFIXES and file.is_file() and not file.is_symlink() for file in files
    )


def write_folder(folder: Path, files: Mapping[str, bytes], *, overwrite: bool = False) -> None:
    """Write all files into a new folder in one move: built beside it under another name, then renamed.

    files: content by file name.
    Raises: Refusal when the folder is there and may not be replaced; OSError. Nothing is left behind then.
    """
    made = _make_above(folder.parent)
    building = folder.parent / f".{folder.name}.{secrets.token_hex(4)}.part"
    try:
        building.mkdir()
        for name, content in files.items():
            (building / name).write_bytes(content)
        refuse_existing(folder, overwrite=overwrite)
        _move_into_place(building, folder)
    except BaseException:
        shutil.rmtree(building, ignore_errors=True)
        for above in made:
            with contextlib.suppress(OSError):
                above.rmdir()
        raise


def _make_above(folder: Path) -> list[Path]:
    """Make the folders that are missing and return them, innermost first."""
    missing = []
    while not folder.exists() and folder != folder.parent:
        missing.append(folder)
        folder = folder.parent
    for one in reversed(missing):
        one.mkdir(exist_ok=True)
    return missing


def _move_into_place(building: Path, folder: Path) -> None:
    if not os.path.lexists(folder):
        building.rename(folder)
        return
    old = building.with_suffix(".old")
    folder.rename(old)
    try:
        building.rename(folder)
    except BaseException:
        old.rename(folder)
        raise
    shutil.rmtree(old, ignore_errors=True)
