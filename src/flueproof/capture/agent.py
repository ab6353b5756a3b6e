"""The agent: reads one source until it is told to stop, keeps every reading, and sends beside it."""

from __future__ import annotations

import datetime as dt
import math
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final

from .delivery import Delivery, pause_s
from .errors import SourceError, SpoolError
from .lines.cutter import JOINED_WITHIN_S, LineCutter
from .lines.pattern import Pattern, Shown, Unmatched
from .reading import moment_text
from .sources import Source
from .spool import Spool
from .telling import Tell

SHOWN_UNMATCHED: Final = 5
POSSIBLE_YEARS: Final = range(2020, 2201)
"""A computer without a clock battery starts in 1970 or in the year it was made."""
_LAST_WORDS_S: Final = 8.0
_WARN_EVERY_S: Final = 600.0
_LOOK_EVERY_S: Final = 10.0
_DISK_PAUSE_S: Final = 1.0


@dataclass
class Counts:
    """What went by: lines read, readings kept, lines that no pattern matched, pieces of lines dropped."""

    lines: int = 0
    readings: int = 0
    unmatched: int = 0
    dropped: int = 0


@dataclass
class Agent:
    """One source, one spool, one shop.

    ceiling_bytes: size of the spool above which it warns; report_s: seconds between reports, 0 for none; now, since:
    wall clock (UTC) and a clock that never runs backwards.
    """

    source: Source
    pattern: Pattern
    spool: Spool
    delivery: Delivery
    tell: Tell
    ceiling_bytes: int
    report_s: float = 60.0
    now: Callable[[], dt.datetime] = field(default=lambda: dt.datetime.now(dt.UTC))
    since: Callable[[], float] = time.monotonic
    counts: Counts = field(default_factory=Counts)
    _reported_at: float = 0.0
    _next_look_at: float = -math.inf
    _said_unmatched: int = 0

    def run(self, stop: threading.Event) -> None:
        """Work until stop is set. What is kept but not sent stays for the next start."""
        sending = threading.Thread(target=self.delivery.run, args=(stop,), name="delivery", daemon=True)
        sending.start()
        self._reported_at = self.since()
        try:
            self._follow(stop)
        finally:
            stop.set()
            self.delivery.wake.set()
            sending.join(_LAST_WORDS_S)
            self.report("stopped")

    def _follow(self, stop: threading.Event) -> None:
        """Read the source, and find it again whenever it goes away."""
        failures = 0
        while not stop.is_set():
            try:
                self.source.open()
                self.tell("connected", f"Reading {self.source.name}.")
                failures = 0
                self._read(stop)
            except SourceError as error:
                failures += 1
                if failures == 1:
                    self.tell("source-away", str(error))
                stop.wait(pause_s(failures, self.delivery.random.random()) / 4.0)
            finally:
                self.source.close()
            self._look_after()

    def report(self, event: str = "report") -> None:
        """Say how many lines were read, kept, sent, and what waits."""
        state, counts = self.spool.state(), self.counts
        self.tell(
            event,
            f"{counts.lines} lines, {counts.readings} readings kept, {self.delivery.sent} sent, {state.unsent} waiting,"
            f" {counts.unmatched} lines not matched.",
            lines=counts.lines,
            readings=counts.readings,
            sent=self.delivery.sent,
            waiting=state.unsent,
            unmatched=counts.unmatched,
            dropped=counts.dropped,
            last=state.last,
        )

    def _read(self, stop: threading.Event) -> None:
        cutter = LineCutter(self.pattern.encoding, self.pattern.longest)
        opened, begun = self.since(), False
        try:
            while not stop.is_set():
                chunk = self.source.read()
                moment = self._moment()
                if chunk and not begun:
                    begun = True
                    cutter.joined = not self.pattern.keep_first and self.since() - opened < JOINED_WITHIN_S
                if lines := cutter.feed(chunk) if chunk else []:
                    self._take(moment, lines, stop)
                self._look_after()
        finally:
            cutter.end()
            self.counts.dropped += cutter.dropped

    def _moment(self) -> str:
        """Return the time for what was read; a clock that was never set must not date readings for ever."""
        now = self.now()
        if now.year not in POSSIBLE_YEARS:
            raise SourceError(
                f"The clock of this computer stands in the year {now.year}: nothing is read with it.", "Set the clock."
            )
        return moment_text(now)

    def _take(self, moment: str, lines: list[str], stop: threading.Event) -> None:
        kept: list[tuple[str, tuple[Shown, ...]]] = []
        for line in lines:
            if self.pattern.ignores(line):
                continue
            self.counts.lines += 1
            found = self.pattern.read(line)
            if isinstance(found, Unmatched):
                self._unmatched(found)
            else:
                kept.append((moment, found))
        if kept and self._keep(kept, stop):
            self.counts.readings += sum(len(shown) for _, shown in kept)
            self.delivery.wake.set()

    def _keep(self, kept: list[tuple[str, tuple[Shown, ...]]], stop: threading.Event) -> bool:
        """Write to disk, again and again if the disk refuses: what was read is given up only when told to stop."""
        said = False
        while True:
            try:
                self.spool.add_lines(kept)
            except SpoolError as error:
                if not said:
                    self.tell("spool-refuses", f"{error} Nothing more is read until it can be written.")
                said = True
                if stop.wait(_DISK_PAUSE_S):
                    self.tell("lost", f"{len(kept)} lines were read and could not be written to disk.", lines=len(kept))
                    return False
            else:
                return True

    def _unmatched(self, found: Unmatched) -> None:
        self.counts.unmatched += 1
        if self._said_unmatched < SHOWN_UNMATCHED:
            self._said_unmatched += 1
            last = " Further ones are only counted." if self._said_unmatched == SHOWN_UNMATCHED else ""
            self.tell("unmatched", f"Line not matched: {found.line[:200]} ({found.why}).{last}")

    def _look_after(self) -> None:
        """Report, and watch the size of the spool, when it is time."""
        now = self.since()
        if self.report_s and now - self._reported_at >= self.report_s:
            self._reported_at = now
            self.report()
        if now >= self._next_look_at:
            self._next_look_at = now + (_WARN_EVERY_S if self._over_ceiling() else _LOOK_EVERY_S)

    def _over_ceiling(self) -> bool:
        if self.spool.state().size_bytes <= self.ceiling_bytes:
            return False
        self.spool.let_go_of_sent()
        state = self.spool.state()
        if state.size_bytes <= self.ceiling_bytes:
            return False
        size, ceiling = state.size_bytes / 1e6, self.ceiling_bytes / 1e6
        self.tell(
            "spool-large",
            f"{state.unsent} readings wait, {size:.1f} MB on disk; the ceiling is {ceiling:.1f} MB. Nothing is deleted:"
            " bring the shop back into reach or make room on the disk.",
            waiting=state.unsent,
            size_bytes=state.size_bytes,
        )
        return True
