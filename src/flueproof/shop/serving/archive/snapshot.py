"""A still picture of a database that goes on being written to."""

from __future__ import annotations

import contextlib
import sqlite3
import tempfile
from collections.abc import Iterator
from pathlib import Path

from django.db import connection, connections, transaction

_COPY = "snapshot"


@contextlib.contextmanager
def snapshot() -> Iterator[str]:
    """Give the alias of a connection on which everything stands still; writers are not held up.

    SQLite: a copy made by its own backup, page by page, beside the writers. PostgreSQL: one REPEATABLE READ, READ
    ONLY transaction.
    """
    if connection.vendor == "sqlite":
        with _sqlite_copy() as alias:
            yield alias
        return
    with transaction.atomic():
        with connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
        yield "default"


@contextlib.contextmanager
def _sqlite_copy() -> Iterator[str]:
    connection.ensure_connection()
    with tempfile.TemporaryDirectory(prefix="flueproof-backup-") as folder:
        path = Path(folder) / "copy.sqlite3"
        with contextlib.closing(sqlite3.connect(path)) as copy:
            connection.connection.backup(copy)
        connections.databases[_COPY] = {**connections.databases["default"], "NAME": str(path)}
        try:
            yield _COPY
        finally:
            connections[_COPY].close()
            del connections[_COPY]
            del connections.databases[_COPY]
