"""The server: granian over ASGI, supervised, with the webhook sender beside it."""

from __future__ import annotations

import threading
from collections.abc import Callable

from granian import Granian
from granian.constants import Interfaces
from granian.log import LogLevels

from flueproof.shop.serving.surroundings import Place


def run_server(place: Place, *, workers: int = 1, beside: Callable[[threading.Event], None] | None = None) -> None:
    """Serve until stopped by a signal.

    workers: processes; more than one needs PostgreSQL, where they wake one another through the database.
    beside: background work, run in a thread of the supervising process until its event is set.
    """
    stop = threading.Event()
    thread = threading.Thread(target=beside, args=(stop,), name="beside", daemon=True) if beside else None
    server = Granian(
        "flueproof.shop.asgi:application",
        address=place.host,
        port=place.port,
        interface=Interfaces.ASGINL,
        workers=workers,
        blocking_threads=1,
        websockets=False,
        log_level=LogLevels.warning,
        respawn_failed_workers=True,
        workers_kill_timeout=3,
    )
    if thread is not None:
        thread.start()
    try:
        server.serve()
    finally:
        stop.set()
        if thread is not None:
            thread.join(timeout=5)
