"""What the agent says while it works: a line for a person, or one JSON object a line for another program."""

from __future__ import annotations

import json
import sys
import threading
from typing import Protocol, TextIO


class Tell(Protocol):
    """Says one thing: what kind of event it is, and in words."""

    def __call__(self, event: str, text: str, **facts: object) -> None:
        """Say it. facts: numbers and texts that go along with the JSON form."""


class Telling:
    """Writes to a stream, from any thread, one whole line at a time; a closed stream does not stop the agent."""

    def __init__(self, *, as_json: bool, stream: TextIO | None = None) -> None:
        self._as_json = as_json
        self._stream = stream
        self._guard = threading.Lock()

    def __call__(self, event: str, text: str, **facts: object) -> None:
        """Write one line: see `Tell`."""
        line = json.dumps({"event": event, "text": text, **facts}) if self._as_json else one_line(text)
        stream = self._stream or sys.stdout
        with self._guard:
            try:
                stream.write(line + "\n")
                stream.flush()
            except UnicodeEncodeError:
                stream.write(line.encode("ascii", "replace").decode("ascii") + "\n")
            except (OSError, ValueError):
                return


def one_line(text: str) -> str:
    """Return a text without signs that would steer the terminal: what an analyzer sends is not trusted."""
    return "".join(sign if sign.isprintable() else sign.encode("unicode_escape").decode() for sign in text)
