"""Around every request: the shop's time zone, the second factor, messages and sign-in for fragments."""

from __future__ import annotations

import zoneinfo
from collections.abc import Callable
from typing import Any
from urllib.parse import urlencode, urlsplit

from django.contrib.messages import get_messages
from django.http import HttpRequest, HttpResponse, HttpResponseBase, HttpResponseRedirect
from django.urls import reverse
from django.utils import timezone
from django_htmx.http import HttpResponseClientRedirect, trigger_client_event

from flueproof.shop.frame.second_factor import has_second_factor
from flueproof.shop.frame.the_shop import the_shop


class SignedInMiddleware:
    """Switch to the shop's time zone, let nobody past without their code, and carry messages into fragments."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        """Keep the next layer."""
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Serve the request."""
        with timezone.override(zoneinfo.ZoneInfo(the_shop().time_zone)):
            if _needs_code(request):
                return _for_fragments(request, _to_code(request))
            answer = self.get_response(request)
            _keep_private(request, answer)
            return _for_fragments(request, answer)


def _needs_code(request: HttpRequest) -> bool:
    """Return True for a session whose person has a second factor that this session has not shown."""
    person: Any = request.user
    if not person.is_authenticated or person.is_verified() or not has_second_factor(person):
        return False
    return request.path not in (reverse("frame:code"), reverse("frame:logout"))


def _to_code(request: HttpRequest) -> HttpResponseRedirect:
    onward = request.get_full_path() if request.method == "GET" and not _is_fragment(request) else _page_of(request)
    return HttpResponseRedirect(f"{reverse('frame:code')}?{urlencode({'next': onward})}")


def _is_fragment(request: HttpRequest) -> bool:
    return bool(getattr(request, "htmx", False))


def _page_of(request: HttpRequest) -> str:
    """Return the page that a fragment was asked from."""
    return str(getattr(getattr(request, "htmx", None), "current_url_abs_path", None) or "")


def _keep_private(request: HttpRequest, answer: HttpResponseBase) -> None:
    """Let no shared cache keep what a signed-in person sees."""
    if not answer.has_header("Cache-Control") and request.user.is_authenticated:
        answer["Cache-Control"] = "private, no-cache"


def _for_fragments(request: HttpRequest, answer: HttpResponseBase) -> HttpResponseBase:
    """Turn a fragment's way to the sign-in into a whole page, and hand its messages to the page it goes into."""
    if not _is_fragment(request) or not isinstance(answer, HttpResponse):
        return answer
    if isinstance(answer, HttpResponseRedirect):
        path = urlsplit(answer.url).path
        if path in (reverse("frame:login"), reverse("frame:code")):
            return HttpResponseClientRedirect(f"{path}?{urlencode({'next': _page_of(request)})}")
        return answer
    if answer.has_header("HX-Redirect") or answer.has_header("HX-Refresh"):
        return answer  # the next page shows the messages
    said = [{"text": str(message), "level": message.level_tag} for message in get_messages(request)]
    return trigger_client_event(answer, "flueproof:say", {"messages": said}) if said else answer
