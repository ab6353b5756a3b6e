"""Files read no further than they can be what was asked for."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from flueproof.cli.words.faults import Refusal

LARGEST_TRACE: Final = 64 * 1024 * 1024
LARGEST_PROFILE: Final = 4 * 1024 * 1024


def out_folder(given: str | None) -> Path | None:
    """Return the folder that --out names, None when it was not given.

    Raises: Refusal for an empty name: it would mean the current folder.
    """
    if given is None:
        return None
    if not given.strip():
        raise Refusal("--out", "is empty.", "Name a folder, or leave --out out; . is the current folder.")
    return Path(given)


def bytes_of(path: Path, largest: int, what: str) -> bytes:
    """Return the bytes of a file of at most `largest` bytes; a device that never ends is refused too.

    Raises: Refusal, OSError.
    """
    with path.open("rb") as file:
        data = file.read(largest + 1)
    if len(data) > largest:
        raise Refusal(str(path), f"holds more than {largest // 1024 // 1024} MB.", f"Is it {what}?")
    return data
