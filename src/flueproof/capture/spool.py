"""The spool: readings on disk before anything else happens to them, until the shop has them and longer.

Why SQLite and not a file that lines are appended to: every commit is one flush to the disk either way; SQLite brings
what the plain file would need on top: a half-written end after a cut of power is recognised by its checksums and left
out, a number once given stays used also when its row is gone (AUTOINCREMENT), what the shop acknowledged is a second
table in the same transaction log, and a lock keeps a second agent away. It is in the standard library.
Set up: write-ahead log, synchronous FULL (flushed at every commit), locked as long as the agent lives; the operating
system takes the lock away also after `kill -9`.
"""

from __future__ import annotations

import json
import sqlite3
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from .errors import SpoolError
from .lines.pattern import Shown
from .reading import Reading

FILE_NAME: Final = "readings.sqlite3"
KEPT_AFTER_SENDING: Final = 10_000
"""So many acknowledged rows stay on disk, newest first, for a look back; unsent rows stay without any limit."""
_LOCK_WAIT_S: Final = 2.0
_TABLES: Final = """
CREATE TABLE IF NOT EXISTS readings (
    sequence INTEGER PRIMARY KEY AUTOINCREMENT, at TEXT NOT NULL, channel TEXT NOT NULL, unit TEXT NOT NULL,
    step TEXT NOT NULL, shown TEXT NOT NULL);
CREATE TABLE IF NOT EXISTS state (
    only INTEGER PRIMARY KEY CHECK (only = 1), agent TEXT NOT NULL, tried_to INTEGER NOT NULL,
    acknowledged_to INTEGER NOT NULL);
"""


@dataclass(frozen=True, slots=True)
class SpoolState:
    """How the spool stands.

    agent: whose numbers these are; last: highest number given; tried_to: highest number ever posted; acknowledged_to:
    highest number that the shop has acknowledged; unsent: rows above it; size_bytes: of what is in use on disk.
    """

    agent: str
    last: int
    tried_to: int
    acknowledged_to: int
    unsent: int
    size_bytes: int


class Spool:
    """The spool of one agent in a folder. Safe to use from several threads.

    first: number of the first reading of a new spool. The agent gives the clock in milliseconds, so that a spool begun
    anew (folder lost, laptop set up again) never repeats numbers that the shop already has under the same id.
    Raises: SpoolError when the folder cannot be used, another agent uses it, or the file is damaged.
    """

    def __init__(self, folder: Path, agent: str, *, first: int = 1) -> None:
        self.file = folder / FILE_NAME
        self._guard = threading.Lock()
        self._unsent_before = 0
        with _told(self.file):
            folder.mkdir(parents=True, exist_ok=True)
            self._base = sqlite3.connect(
                self.file, timeout=_LOCK_WAIT_S, isolation_level=None, check_same_thread=False, cached_statements=32
            )
            try:
                self._open(agent, first)
            except BaseException:
                self._base.close()
                raise

    def _open(self, agent: str, first: int) -> None:
        for pragma in ("locking_mode=EXCLUSIVE", "journal_mode=WAL", "synchronous=FULL"):
            self._base.execute(f"PRAGMA {pragma}").fetchall()
        with self._writing():
            for statement in _TABLES.split(";"):
                self._base.execute(statement)
            fresh = self._base.execute("INSERT OR IGNORE INTO state VALUES (1, ?, ?, ?)", (agent, first - 1, first - 1))
            if fresh.rowcount == 1:
                self._base.execute("INSERT INTO sqlite_sequence (name, seq) VALUES ('readings', ?)", (first - 1,))
        before = self.state()
        if before.agent != agent:
            self._unsent_before = before.tried_to - before.acknowledged_to
            with self._writing():
                self._base.execute("UPDATE state SET agent = ?, tried_to = acknowledged_to", (agent,))

    @property
    def unclear_under_another_id(self) -> int:
        """Return how many rows may already be at the shop under the id that this spool had before."""
        return self._unsent_before

    def add(self, at: str, shown: Sequence[Shown]) -> int:
        """Keep what one moment showed, all of it or nothing; on disk when this returns. Return the last number given.

        Raises: SpoolError when the disk is full or gone.
        """
        return self.add_lines([(at, shown)])

    def add_lines(self, lines: Sequence[tuple[str, Sequence[Shown]]]) -> int:
        """Keep several lines in one commit, in order. Return the last number given.

        Raises: SpoolError as `add`.
        """
        rows = [
            (at, one.channel, one.unit, json.dumps(one.step), json.dumps(one.shown))
            for at, shown in lines
            for one in shown
        ]
        last = 0
        with _told(self.file), self._guard, self._writing():
            for row in rows:
                done = self._base.execute(
                    "INSERT INTO readings (at, channel, unit, step, shown) VALUES (?, ?, ?, ?, ?)", row
                )
                last = int(done.lastrowid or 0)
        return last

    def unsent(self, limit: int) -> list[Reading]:
        """Return the oldest rows that the shop has not acknowledged, in order, at most limit."""
        with _told(self.file), self._guard:
            rows = self._base.execute(
                "SELECT sequence, at, channel, unit, step, shown FROM readings"
                " WHERE sequence > (SELECT acknowledged_to FROM state) ORDER BY sequence LIMIT ?",
                (limit,),
            ).fetchall()
        return [
            Reading(sequence, at, Shown(channel, unit, json.loads(step), json.loads(shown)))
            for sequence, at, channel, unit, step, shown in rows
        ]

    def trying(self, last: int) -> None:
        """Write down, before a post, that rows up to this number may reach the shop from now on."""
        with _told(self.file), self._guard, self._writing():
            self._base.execute("UPDATE state SET tried_to = max(tried_to, ?)", (last,))

    def not_tried(self, above: int) -> None:
        """Write down that rows above this number are surely not at the shop: it said so."""
        with _told(self.file), self._guard, self._writing():
            self._base.execute("UPDATE state SET tried_to = max(acknowledged_to, min(tried_to, ?))", (above,))

    def acknowledge(self, last: int) -> None:
        """Write down that the shop has everything up to this number, and let go of old acknowledged rows."""
        with _told(self.file), self._guard, self._writing():
            self._base.execute("UPDATE state SET acknowledged_to = max(acknowledged_to, ?)", (last,))
            self._base.execute(
                "DELETE FROM readings WHERE sequence <= (SELECT acknowledged_to FROM state) - ?", (KEPT_AFTER_SENDING,)
            )

    def let_go_of_sent(self) -> None:
        """Delete all acknowledged rows: what a spool over its ceiling may do; unsent rows are never touched."""
        with _told(self.file), self._guard, self._writing():
            self._base.execute("DELETE FROM readings WHERE sequence <= (SELECT acknowledged_to FROM state)")

    def state(self) -> SpoolState:
        """Return how the spool stands."""
        with _told(self.file), self._guard:
            agent, tried_to, acknowledged_to = self._row("SELECT agent, tried_to, acknowledged_to FROM state")
            (last,) = self._row("SELECT coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'readings'), 0)")
            (unsent,) = self._row("SELECT count(*) FROM readings WHERE sequence > ?", acknowledged_to)
            pages = [self._row(f"PRAGMA {name}")[0] for name in ("page_count", "freelist_count", "page_size")]
        return SpoolState(agent, last, tried_to, acknowledged_to, unsent, (pages[0] - pages[1]) * pages[2])

    def close(self) -> None:
        """Give the spool free; whatever is used afterwards raises SpoolError."""
        with self._guard:
            self._base.close()

    def _row(self, query: str, *values: int) -> tuple[Any, ...]:
        found: tuple[Any, ...] = self._base.execute(query, values).fetchone()
        return found

    @contextmanager
    def _writing(self) -> Iterator[None]:
        self._base.execute("BEGIN IMMEDIATE")
        try:
            yield
            self._base.execute("COMMIT")
        except BaseException:
            if self._base.in_transaction:
                self._base.execute("ROLLBACK")
            raise


@contextmanager
def _told(file: Path) -> Iterator[None]:
    """Say in words of the bench what SQLite or the disk says."""
    try:
        yield
    except sqlite3.Error as error:
        text = str(error)
        if "locked" in text:
            raise SpoolError(
                f"{file}: another agent uses this spool.", "Stop it first, or give each agent a folder of its own."
            ) from error
        if "malformed" in text or "not a database" in text:
            raise SpoolError(
                f"{file}: is damaged ({text}).",
                "Keep the folder aside for the readings in it, and start with a new folder and a new agent id.",
            ) from error
        raise SpoolError(f"{file}: {text}.", "Look at the disk: is it full, gone or read-only?") from error
    except OSError as error:
        raise SpoolError(
            f"{file.parent}: {error.strerror or error}.", "Name a folder that can be written, with --spool."
        ) from error
