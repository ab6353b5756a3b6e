"""From bytes, as they trickle in, to whole lines."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Final

JOINED_WITHIN_S: Final = 0.25
"""Bytes this soon after a connection may be the rest of a line; later there was a silence first (own choice)."""
_ENDS: Final = re.compile(rb"[\r\n]+")


@dataclass
class LineCutter:
    """Cuts a stream of bytes at carriage returns and line feeds, in any mixture.

    encoding: of the bytes, those that do not fit become a mark; longest: a line longer than this [bytes] is given out
    in pieces, which no pattern will match; joined: the stream may have begun in the middle of a line, so what stands
    before the first end is dropped (a torn number must never pass for a smaller one) and counted in `dropped`.
    """

    encoding: str = "utf-8"
    longest: int = 1000
    joined: bool = False
    dropped: int = 0
    _rest: bytes = field(default=b"", repr=False)

    def feed(self, chunk: bytes) -> list[str]:
        """Return the lines that are whole now, without their ends and without empty ones."""
        *whole, self._rest = _ENDS.split(self._rest + chunk)
        if self.joined and whole:
            self.joined = False
            self.dropped += bool(whole[0])
            del whole[0]
        while len(self._rest) > self.longest:
            whole.append(self._rest[: self.longest])
            self._rest = self._rest[self.longest :]
        return [line.decode(self.encoding, errors="replace") for line in whole if line]

    def end(self) -> None:
        """Drop what is left when the connection ends: it has no end and may be half a line."""
        self.dropped += bool(self._rest)
        self._rest = b""
