"""Several servers of one shop may start at once; what changes tables and files for all is done by one at a time."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from typing import Final

_KEY: Final = 0x666C7565  # "flue": what this lock is told from others by


@contextlib.contextmanager
def one_at_a_time() -> Iterator[None]:
    """Wait on PostgreSQL until no other server prepares the same database; on SQLite there is only one server.

    The lock is the session's: it goes with the line to the database, also when this process is killed.
    """
    from django.db import connection  # noqa: PLC0415 -- after set_up_django

    if connection.vendor != "postgresql":
        yield
        return
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_advisory_lock(%s)", [_KEY])
    try:
        yield
    finally:
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_unlock(%s)", [_KEY])
