"""How often one address may knock at a door that needs no account; counted for all processes of the shop together."""

from __future__ import annotations

import datetime as dt
import hashlib
import hmac
import ipaddress
import math
from collections.abc import Callable
from functools import wraps
from typing import Any

from django.conf import settings
from django.contrib.sessions.models import Session
from django.db import transaction
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import render
from django.utils import timezone

from flueproof.shop.frame.door.client_address import client_address


def knock(request: HttpRequest, door: str, most: int, minutes: int, now: dt.datetime) -> dt.datetime | None:
    """Count one knock of the asker's address and return None, or from when it is let in again when it was too many.

    door: doors with the same word are counted together. The count lies in the table of sessions, which every process
    has, under a keyed hash: neither an address is kept nor can a cookie name the row. It goes with its time.
    """
    seconds = minutes * 60
    window = math.floor(now.timestamp()) // seconds
    ends = dt.datetime.fromtimestamp((window + 1) * seconds, dt.UTC)
    text = f"{door} {_neighborhood(client_address(request))} {window}"
    key = hmac.new(settings.SECRET_KEY.encode(), text.encode(), hashlib.sha256).hexdigest()[:40]
    with transaction.atomic():
        row, fresh = Session.objects.select_for_update().get_or_create(
            session_key=key, defaults={"session_data": "0", "expire_date": ends}
        )
        if fresh:
            Session.objects.filter(expire_date__lt=now).delete()
        count = int(row.session_data) + 1
        if count <= most:
            row.session_data = str(count)
            row.save(update_fields=["session_data"])
    return None if count <= most else ends


def throttled(
    door: str, most: int, minutes: int, methods: tuple[str, ...] = ("POST",)
) -> Callable[[Callable[..., HttpResponseBase]], Callable[..., HttpResponseBase]]:
    """Return the decorator of a view that answers 429 when one address asks by these methods more often than `most`."""

    def decorate(view: Callable[..., HttpResponseBase]) -> Callable[..., HttpResponseBase]:
        @wraps(view)
        def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            if request.method in methods:
                now = timezone.now()
                until = knock(request, door, most, minutes, now)
                if until is not None:
                    return too_often(request, until, now)
            return view(request, *args, **kwargs)

        return guarded

    return decorate


def too_often(request: HttpRequest, until: dt.datetime, now: dt.datetime) -> HttpResponse:
    """Return the page that says from when on this address is let in again."""
    shown = (until + dt.timedelta(seconds=59)).replace(second=0, microsecond=0)
    answer = render(request, "frame/too_often.html", {"until": shown}, status=429)
    answer["Retry-After"] = str(max(1, math.ceil((until - now).total_seconds())))
    answer["Cache-Control"] = "no-store"
    return answer


def _neighborhood(address: str) -> str:
    """Return whom a knock is counted for: the address, of IPv6 its first 64 bits, which one household has to itself."""
    try:
        parsed = ipaddress.ip_address(address)
    except ValueError:
        return address
    if parsed.version == 4:
        return str(parsed)
    return str(ipaddress.ip_network((parsed, 64), strict=False))
