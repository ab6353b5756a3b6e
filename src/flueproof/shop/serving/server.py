"""The server: granian over ASGI, supervised, with the sender of webhooks beside it."""

from __future__ import annotations

from granian import Granian
from granian.constants import Interfaces
from granian.log import LogLevels

from flueproof.shop.serving.sender import end_sender, start_sender
from flueproof.shop.serving.surroundings import Place


def run_server(place: Place, *, workers: int = 1) -> None:
    """Serve until stopped by a signal.

    workers: processes; more than one needs PostgreSQL, where they wake one another through the database.
    """
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
    sender = start_sender()
    try:
        server.serve()
    finally:
        end_sender(sender)
