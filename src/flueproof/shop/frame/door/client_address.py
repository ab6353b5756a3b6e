"""From which address a request came: behind a proxy the one that the proxy saw, never one that the asker wrote."""

from __future__ import annotations

import ipaddress

from django.conf import settings
from django.http import HttpRequest


def client_address(request: HttpRequest) -> str:
    """Return the address that wrong passwords are counted for.

    Behind one proxy that is the last entry of X-Forwarded-For: a proxy appends whom it heard from, and what stands
    before was sent along by the asker. Without the header, or with nonsense in it, the connection's own address.
    """
    direct = str(request.META.get("REMOTE_ADDR") or "")
    if not settings.BEHIND_PROXY:
        return direct
    last = str(request.META.get("HTTP_X_FORWARDED_FOR", "")).rpartition(",")[2].strip()
    try:
        return str(ipaddress.ip_address(last))
    except ValueError:
        return direct
