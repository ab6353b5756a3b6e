"""The app of this page."""

from __future__ import annotations

from typing import Any, Final

from django.apps import AppConfig
from django.core.signals import request_started

_SERVED_BY: Final = "ASGIHandler"
_FIRST: Final = "arrivals: first request"


class ArrivalsConfig(AppConfig):
    """Boxes that came: whose they are, what is in them, what is missing."""

    name = "flueproof.shop.arrivals"
    label = "arrivals"

    def ready(self) -> None:
        """Watch for the first page that this process serves: then what recognizes boxes is made ready beside it."""
        request_started.connect(first_served, dispatch_uid=_FIRST)


def first_served(sender: type[Any], **_: Any) -> None:
    """Make the index ready in a process that the server runs; commands, tests and the supervisor serve no page."""
    if sender.__name__ == _SERVED_BY and request_started.disconnect(dispatch_uid=_FIRST):
        from flueproof.shop.records.intake.looking.ready import make_ready  # noqa: PLC0415 -- models load first

        make_ready()
