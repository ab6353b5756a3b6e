"""The environment the shop runs in: what the options of `flueproof serve` set before Django loads."""

from __future__ import annotations

import os
import socket
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from flueproof.shop.serving.errors import PortTakenError


@dataclass(frozen=True, slots=True)
class Place:
    """Where the shop is served from and to.

    data: folder of the shop's files; host, port: where to listen; names: further names the shop is reached by;
    https: served by HTTPS through a proxy; demo: the demo shop.
    """

    data: Path
    host: str = "127.0.0.1"
    port: int = 8321
    names: Sequence[str] = ()
    https: bool = False
    demo: bool = False

    @property
    def address(self) -> str:
        """Return the address to open in a browser on this machine."""
        host = "localhost" if self.host in {"0.0.0.0", "::", "127.0.0.1"} else self.host  # noqa: S104 -- compared only
        return f"http://{host}:{self.port}/"


def set_surroundings(place: Place) -> None:
    """Set the environment variables the settings read; the server's own processes inherit them."""
    place.data.mkdir(parents=True, exist_ok=True)
    hosts = {"localhost", "127.0.0.1", "[::1]", place.host, socket.gethostname(), *place.names}
    os.environ.update(
        {
            "DJANGO_SETTINGS_MODULE": "flueproof.shop.settings",
            "FLUEPROOF_DATA": str(place.data.resolve()),
            "FLUEPROOF_HOSTS": ",".join(sorted(hosts)),
            "FLUEPROOF_COLLECTED": "1",
            "FLUEPROOF_STATIC": str(place.data.resolve() / "static"),
            "FLUEPROOF_DEBUG": "0",
            "FLUEPROOF_DEMO": "1" if place.demo else "0",
            "FLUEPROOF_DEMO_ADDRESS": place.address.rstrip("/") if place.demo else "",
        }
    )
    if place.https:
        os.environ.update({"FLUEPROOF_HTTPS": "1", "FLUEPROOF_PROXY": "1"})
        os.environ["FLUEPROOF_ORIGINS"] = ",".join(f"https://{name}" for name in sorted(hosts))


def refuse_taken_port(place: Place) -> None:
    """Look whether the address is free before anything else is done.

    Raises: PortTakenError.
    """
    family = socket.AF_INET6 if ":" in place.host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((place.host, place.port))
        except OSError as error:
            raise PortTakenError(
                f"cannot listen at {place.host}:{place.port} ({error.strerror})",
                "Stop what listens there, or give another --port.",
            ) from None
