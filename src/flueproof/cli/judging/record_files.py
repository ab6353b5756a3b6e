"""The records that file and folder names on the command line stand for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from flueproof.cli.words.faults import Fault


@dataclass(frozen=True, slots=True)
class EmptyFolder:
    """A folder without records: an answer of its own, with its fault."""

    path: Path
    fault: Fault


def record_files(given: Iterable[Path]) -> list[Path | EmptyFolder]:
    """Return the record files in the order given; a folder stands for all *.json in it, sorted by name."""
    found: list[Path | EmptyFolder] = []
    for path in given:
        if not path.is_dir():
            found.append(path)
            continue
        try:
            inside = sorted(file for file in path.iterdir() if file.suffix.lower() == ".json" and not file.is_dir())
        except OSError as error:
            found.append(EmptyFolder(path, Fault("$", f"the folder cannot be read ({error.strerror}).", "Check it.")))
            continue
        if inside:
            found += inside
        else:
            fault = Fault("$", "the folder holds no *.json file.", "Name a record or a folder that holds records.")
            found.append(EmptyFolder(path, fault))
    return found


def refuse_same_names(files: list[Path | EmptyFolder]) -> list[Path | EmptyFolder]:
    """Return the list with an answer of its own where a later record would take the folder of an earlier one."""
    taken: dict[str, Path] = {}
    kept: list[Path | EmptyFolder] = []
    for file in files:
        if isinstance(file, EmptyFolder):
            kept.append(file)
            continue
        earlier = taken.setdefault(file.name.casefold().removesuffix(".json"), file)
        if earlier is file:
            kept.append(file)
        else:
            fault = Fault("$", f"{earlier} of this run has the same name.", "Rename one, or give each its own --out.")
            kept.append(EmptyFolder(file, fault))
    return kept
