"""How far long work has come, on standard error."""

from __future__ import annotations

import sys
import time
from typing import Final

import click

_EVERY_S: Final = 0.2
_EVERY_S_IN_A_FILE: Final = 5.0


class Progress:
    """Counts records; on a terminal one line that is written over, elsewhere a line now and then.

    total: how many there are; asked: None shows it on a terminal only and only for more than a few, True always.
    """

    def __init__(self, total: int, *, asked: bool | None = None, few: int = 8) -> None:
        self._total = total
        self._terminal = sys.stderr.isatty()
        self._shown = asked if asked is not None else (self._terminal and total > few)
        self._started = self._last = time.monotonic()
        self._done = self._failed = 0
        self._on_line = False

    def one_done(self, *, failed: bool) -> None:
        """Count one record and show where things stand when it is time."""
        self._done += 1
        self._failed += failed
        now = time.monotonic()
        every = _EVERY_S if self._terminal else _EVERY_S_IN_A_FILE
        if self._shown and (now - self._last >= every or self._done == self._total):
            self._last = now
            self._show(now)

    def clear(self) -> None:
        """Take the line away before something else is written to the terminal."""
        if self._on_line:
            click.echo("\r\x1b[K", nl=False, err=True)
            self._on_line = False

    def _show(self, now: float) -> None:
        rate = self._done / max(now - self._started, 1e-9)
        bad = f", {self._failed} not judged" if self._failed else ""
        text = f"{self._done} of {self._total} records, {rate:.0f} a second{bad}"
        if self._terminal:
            click.echo(f"\r\x1b[K{text}", nl=False, err=True)
            self._on_line = True
        else:
            click.echo(text, err=True)
