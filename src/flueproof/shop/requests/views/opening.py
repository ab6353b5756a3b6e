"""What a secret in an address opens, and the pages that say why it opens nothing."""

from __future__ import annotations

from collections.abc import Callable, Collection
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.cache import never_cache

from flueproof.shop.frame.door.throttle import knock, too_often
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.mailing.links import open_link, public_base
from flueproof.shop.records.models import AnswerLink, ServiceRequest

_WRONG_SECRETS, _MINUTES = 40, 60

View = Callable[..., HttpResponseBase]


def request_of(link: AnswerLink) -> ServiceRequest:
    """Return the request of a link, read anew.

    Raises: ServiceRequest.DoesNotExist.
    """
    row: ServiceRequest = ServiceRequest.objects.select_related("owner").get(pk=link.request_id)
    return row


def by_secret(purposes: Collection[str], states: Collection[str] = ("good",)) -> Callable[[View], View]:
    """Return the decorator of a view that gets (request, secret, link, state) when the secret opens something.

    Else the asker reads what is wrong with it: unknown secrets are counted, and too many of them are turned away.
    """

    def decorate(view: View) -> View:
        @wraps(view)
        @never_cache
        def opened(request: HttpRequest, secret: str, *args: Any, **kwargs: Any) -> HttpResponseBase:
            now = timezone.now()
            found = open_link(secret, now)
            link = found.link
            if link is None or link.purpose not in purposes or link.request_id is None:
                until = knock(request, "wrong-secret", _WRONG_SECRETS, _MINUTES, now)
                return too_often(request, until, now) if until else shut(request, "unknown")
            if found.state not in states:
                return shut(request, found.state)
            return view(request, secret, link, found.state, *args, **kwargs)

        return opened

    return decorate


def open_shop(view: View) -> View:
    """Return the decorator of a view that the shop may have switched off: requests come by phone then."""

    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not the_shop().public_requests:
            return render(request, "requests/closed.html", status=404)
        return view(request, *args, **kwargs)

    return guarded


def shut(request: HttpRequest, state: str) -> HttpResponse:
    """Return the page that says why a link opens nothing: unknown, late, used or withdrawn."""
    return render(request, "requests/shut.html", {"state": state}, status=404 if state == "unknown" else 410)


def whole(request: HttpRequest, path: str) -> str:
    """Return a whole address for an e-mail: at the shop's own public address, else as the asker reached the shop."""
    return f"{public_base()}{path}" if public_base() else request.build_absolute_uri(path)
