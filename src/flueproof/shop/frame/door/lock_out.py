"""The answer after too many wrong passwords: 429, with the time from which passwords are taken again."""

from __future__ import annotations

import datetime as dt
import math
from typing import Any

from axes.helpers import get_client_ip_address, get_cool_off, get_failure_limit
from axes.models import AccessAttempt
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone


def locked_out(
    request: HttpRequest,
    original_response: Any = None,  # noqa: ARG001 -- axes passes it
    credentials: dict[str, Any] | None = None,
) -> HttpResponse:
    """Return the page that says until when no password is taken for this name from this address."""
    given = _credentials(request, credentials)
    until = _until(request, given)
    facts = {
        "username": given.get("username", ""),
        "limit": get_failure_limit(request, given),
        "until": (until + dt.timedelta(seconds=59)).replace(second=0, microsecond=0),
    }
    answer = render(request, "frame/locked_out.html", facts, status=429)
    answer["Retry-After"] = str(max(1, math.ceil((until - timezone.now()).total_seconds())))
    answer["Cache-Control"] = "no-store"
    return answer


def _credentials(request: HttpRequest, credentials: dict[str, Any] | None) -> dict[str, Any]:
    """Return the credentials that were refused; under ASGI axes leaves them on the request only."""
    found: dict[str, Any] = credentials or getattr(request, "axes_credentials", None) or {}
    return found


def _until(request: HttpRequest, credentials: dict[str, Any]) -> dt.datetime:
    """Return when the last counted wrong password is forgotten: tries while locked out do not count."""
    name, address = credentials.get("username", ""), get_client_ip_address(request)
    last = AccessAttempt.objects.filter(username=name, ip_address=address).order_by("-attempt_time").first()
    return (last.attempt_time if last else timezone.now()) + (get_cool_off(request) or dt.timedelta())
