"""Serials on file that a reading may be of: all of them are looked at, as arrays of characters."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
import numpy.typing as npt

from flueproof.intake.file.keys import fold, plate_key

_WIDTH: Final = 18
_FARTHEST: Final = 4
_SAME, _OTHER = 1.9, -1.5


class SerialSearch:
    """Folded keys of all serials, one row for each place on the plate."""

    def __init__(self, serials: Sequence[str]) -> None:
        keys = "".join(fold(plate_key(serial))[:_WIDTH].ljust(_WIDTH, "\0") for serial in serials)
        rows = np.frombuffer(keys.encode("ascii"), dtype=np.uint8).reshape(len(serials), _WIDTH)
        self._table = np.ascontiguousarray(rows.T)
        self._last: tuple[str, npt.NDArray[np.float32]] = ("", np.zeros(len(serials), dtype=np.float32))

    def scores(self, read: str) -> npt.NDArray[np.float32]:
        """Return a rough logarithm of the likelihood ratio of a reading for each serial; 0 when nothing was read."""
        key = fold(plate_key(read))
        asked, found = self._last
        if asked == key:  # one box asks twice
            return found
        total = np.zeros(self._table.shape[1], dtype=np.float32)
        readable = len(key.replace("?", "").replace("*", ""))
        if not readable:
            return total
        at = 0
        for number, part in enumerate(key.split("*")):
            # A dropped or added character moves what comes after it: each half may lie by itself.
            half = (len(part) + 1) // 2 if len(part) > 5 else len(part)
            for piece, start in ((part[:half], at), (part[half:], at + half)):
                if piece.strip("?"):
                    total += self._best(piece, start - 1, start + (_FARTHEST if number == 0 else _FARTHEST + 2))
            at += len(part) + (1 if number == 0 else 2)
        total = total * np.float32(_SAME - _OTHER) + np.float32(_OTHER * readable)
        self._last = (key, total)
        return total

    def _best(self, piece: str, first: int, last: int) -> npt.NDArray[np.uint8]:
        """Return how many characters of a piece are in place, at the best place for each serial."""
        best = np.zeros(self._table.shape[1], dtype=np.uint8)
        for start in range(max(0, first), min(last, _WIDTH - len(piece)) + 1):
            count = np.zeros_like(best)
            for offset, sign in enumerate(piece):
                if sign != "?":
                    count += self._table[start + offset] == ord(sign)
            np.maximum(best, count, out=best)
        return best
