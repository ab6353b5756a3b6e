"""The shop's time zone on every request."""

from __future__ import annotations

import zoneinfo
from collections.abc import Callable

from django.http import HttpRequest, HttpResponseBase
from django.utils import timezone

from flueproof.shop.frame.the_shop import the_shop


class SignedInMiddleware:
    """Switch dates and times to the shop's own zone for the length of a request."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        """Keep the next layer."""
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Serve the request in the shop's time zone."""
        with timezone.override(zoneinfo.ZoneInfo(the_shop().time_zone)):
            return self.get_response(request)
