"""Pages for what went wrong: one clear sentence and a way on."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001 -- Django passes it
    """Answer a request that makes no sense."""
    return render(
        request,
        "frame/error.html",
        {"heading": "That did not make sense", "text": "Go back and try again."},
        status=400,
    )


def not_allowed(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Answer a request that the person's role may not make."""
    text = str(exception) if exception is not None and str(exception) else "Your role may not do this."
    return render(request, "frame/error.html", {"heading": "Not allowed", "text": text}, status=403)


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001 -- Django passes it
    """Answer a request for something that is not there."""
    return render(
        request, "frame/error.html", {"heading": "Not found", "text": "There is nothing at this address."}, status=404
    )


def broken(request: HttpRequest) -> HttpResponse:
    """Answer when the program itself failed; nothing half-written stays behind."""
    return render(
        request, "frame/error.html", {"heading": "Something broke", "text": "Nothing was saved. Try again."}, status=500
    )
