"""One thread a process that hears PostgreSQL's notifications and wakes who watches; SQLite needs none."""

from __future__ import annotations

import logging
import threading
import time
from typing import Any, Final

from django.db import connection

from flueproof.shop.records.visits.news.waking import CHANNEL, hear, wake_all

_RETRY_S: Final = 1.0
# A line that died without a word (a switch, a sleeping machine) is found out within a minute, not within hours.
_ALIVE: Final[dict[str, Any]] = {
    "keepalives": 1,
    "keepalives_idle": 30,
    "keepalives_interval": 10,
    "keepalives_count": 3,
}
_log = logging.getLogger(__name__)
_starting = threading.Lock()
_thread: threading.Thread | None = None


def listen_if_needed() -> None:
    """Start the listening thread of this process once, where the database is PostgreSQL."""
    global _thread  # noqa: PLW0603 -- one thread a process is the point
    if connection.vendor != "postgresql":
        return
    with _starting:
        if _thread is None or not _thread.is_alive():
            parameters = _parameters()
            _thread = threading.Thread(target=_listen, args=(parameters,), name="live-listening", daemon=True)
            _thread.start()


def _parameters() -> dict[str, Any]:
    settings = connection.settings_dict
    named = {"dbname": "NAME", "user": "USER", "password": "PASSWORD", "host": "HOST", "port": "PORT"}
    given = {ours: settings[theirs] for ours, theirs in named.items() if settings.get(theirs)}
    return {**given, **_ALIVE, "application_name": "flueproof live"}


def _listen(parameters: dict[str, Any]) -> None:
    """Listen for ever; after a broken connection everybody is woken, since news may have been missed."""
    import psycopg  # noqa: PLC0415 -- a shop on SQLite does not load it

    while True:
        try:
            with psycopg.connect(**parameters, autocommit=True) as door:
                door.execute(f"LISTEN {CHANNEL}")
                wake_all()
                for notice in door.notifies():
                    hear(notice.payload)
        except psycopg.Error as error:
            _log.warning("listening for live readings: %s; again in a second", error)
        time.sleep(_RETRY_S)
