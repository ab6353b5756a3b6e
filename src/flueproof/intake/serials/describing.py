"""A reading beside a serial on file, in words."""

from __future__ import annotations

from rapidfuzz.distance import LCSseq

from flueproof.intake.file.keys import fold, plate_key


def in_words(read: str, serial: str) -> str:
    """Return how a reading compares with a serial on file."""
    key, own = plate_key(read), plate_key(serial)
    if key == own:
        return f"serial {serial}, as on file"
    signs = key.replace("?", "").replace("*", "")
    if not signs:
        return f"serial {read}: nothing of it is readable"
    same = LCSseq.similarity(signs, own)
    alike = LCSseq.similarity(fold(signs), fold(own)) - same
    words = f"serial {read}, on file {serial}: {same} of {len(signs)} readable characters in place"
    return f"{words}, {alike} more look alike" if alike > 0 else words
