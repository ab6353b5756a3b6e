"""Pages for what went wrong: one clear sentence and a way on."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.urls import Resolver404, resolve

from flueproof.shop.records.models import Person
from flueproof.shop.records.people.rights import RIGHT_IN_WORDS, RIGHTS, ROLES

_ROLE_WORDS = dict(Person.ROLES)


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001 -- Django passes it
    """Answer a request that makes no sense."""
    return _page(
        request,
        400,
        "That did not reach us whole",
        "The page sent something we cannot read. Go back, reload, try again.",
    )


def not_allowed(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Answer a request that the person's role may not make; say which right is missing and who has it."""
    text = str(exception) if exception is not None and str(exception) else "Your role may not do this."
    right = _right_asked(request)
    role = _ROLE_WORDS.get(getattr(request.user, "role", ""), "")
    facts = {
        "role": role,
        "right": RIGHT_IN_WORDS.get(right, ""),
        "who": ", ".join(_ROLE_WORDS[name] for name in ROLES if right in RIGHTS and name in RIGHTS[right]),
    }
    return _page(request, 403, "Not for your role", text, drawing="tag", **facts)


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Answer a request for something that is not there; a view's own words go first."""
    said = str(exception) if exception is not None and not isinstance(exception, Resolver404) else ""
    words = said if said and "matches the given query" not in said else "There is nothing at this address."
    return _page(
        request, 404, "Not found", f"{words} Scan or type a serial, a job or a name to find it.", drawing="probe"
    )


def broken(request: HttpRequest) -> HttpResponse:  # noqa: ARG001 -- Django passes it
    """Answer when the program itself failed; asks no database, for that may be what failed."""
    return HttpResponse(render_to_string("frame/broken.html", {"theme": "auto"}), status=500)


def _page(request: HttpRequest, status: int, heading: str, text: str, **facts: Any) -> HttpResponse:
    return render(request, "frame/error.html", {"heading": heading, "text": text, **facts}, status=status)


def _right_asked(request: HttpRequest) -> str:
    """Return the right that the view asks for (`requires` leaves it on the view), "" when it names none."""
    try:
        view = resolve(request.path_info).func
    except Resolver404:
        return ""
    return str(getattr(view, "right", ""))
