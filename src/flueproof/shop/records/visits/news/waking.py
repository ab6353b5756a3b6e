"""Telling whoever watches a visit that something is new: in memory, and by the database's notify on PostgreSQL.

One process serves SQLite, so memory reaches everybody. On PostgreSQL several processes may: NOTIFY is sent inside the
transaction, the database delivers it on commit, and each process listens on one connection of its own.
"""

from __future__ import annotations

import os
import secrets
import threading
from collections.abc import Callable
from typing import Final

from django.db import connection, transaction

CHANNEL: Final = "flueproof_live"

_TOKEN: Final = secrets.token_hex(4)
_watchers: dict[int, set[Callable[[], None]]] = {}
_lock = threading.Lock()


def tell_watchers(visit_pk: int) -> None:
    """Wake whoever watches a visit once the present transaction is committed; a rolled-back one wakes nobody."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_notify(%s, %s)", [CHANNEL, f"{visit_pk} {this_process()}"])
    transaction.on_commit(lambda: wake(visit_pk))


def hear(notice: str) -> None:
    """Take a notice of the database; one that this process sent itself woke everybody here from memory already."""
    number, _, sender = notice.partition(" ")
    if number.isdigit() and sender != this_process():
        wake(int(number))


def this_process() -> str:
    """Return what tells this process from all others, on this machine and elsewhere, also from one it forked."""
    return f"{_TOKEN}-{os.getpid()}"


def watch(visit_pk: int, ring: Callable[[], None]) -> Callable[[], None]:
    """Call `ring` with each news of a visit, from any thread; return what ends it. `ring` must not block."""
    with _lock:
        _watchers.setdefault(visit_pk, set()).add(ring)

    def stop() -> None:
        with _lock:
            left = _watchers.get(visit_pk, set())
            left.discard(ring)
            if not left:
                _watchers.pop(visit_pk, None)

    return stop


def wake(visit_pk: int) -> None:
    """Ring for everybody in this process who watches the visit."""
    with _lock:
        rings = list(_watchers.get(visit_pk, ()))
    for ring in rings:
        ring()


def wake_all() -> None:
    """Ring for every visit: news may have been lost while the listening connection was away."""
    with _lock:
        watched = list(_watchers)
    for visit_pk in watched:
        wake(visit_pk)
