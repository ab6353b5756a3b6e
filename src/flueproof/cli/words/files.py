"""Files read no further than they can be what was asked for."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from flueproof.cli.words.faults import Refusal

LARGEST_TRACE: Final = 64 * 1024 * 1024
LARGEST_PROFILE: Final = 4 * 1024 * 1024


def bytes_of(path: Path, largest: int, what: str) -> bytes:
    """Return the bytes of a file of at most `largest` bytes; a device that never ends is refused too.

    Raises: Refusal, OSError.
    """
    with path.open("rb") as file:
        data = file.read(largest + 1)
    if len(data) > largest:
        raise Refusal(str(path), f"holds more than {largest // 1024 // 1024} MB.", f"Is it {what}?")
    return data
