"""From an exception to the one shape of errors."""

from __future__ import annotations

import logging
from collections.abc import Callable
from typing import Any, Final

from django.core.signals import got_request_exception
from django.http import Http404, HttpRequest, HttpResponse
from ninja import NinjaAPI
from ninja.errors import AuthenticationError, HttpError, Throttled, ValidationError

from flueproof.shop.api.answers import ApiError, ConflictOut, ErrorOut, ErrorText

_LOG: Final = logging.getLogger("django.request")
_WHOLE: Final = ("body", "query", "path", "header", "form", "file", "response")
Reply = Callable[[HttpRequest, Any], HttpResponse]


def error_answer(
    status: int, message: str, remedy: str = "", where: str = "", current: dict[str, Any] | None = None
) -> HttpResponse:
    """Return an error in the one shape."""
    text = ErrorText(message=message, remedy=remedy, where=where)
    shape = ConflictOut(error=text, current=current) if status == 409 else ErrorOut(error=text)
    answer = HttpResponse(shape.model_dump_json(), content_type="application/json", status=status)
    if status == 401:
        answer["WWW-Authenticate"] = "Bearer"
    return answer


def tell_faults_in_one_shape(api: NinjaAPI) -> None:
    """Let the API answer every exception in the one shape."""
    replies: dict[type[Exception], Reply] = {
        ApiError: _api_error,
        AuthenticationError: _no_token,
        ValidationError: _not_valid,
        Throttled: _too_many,
        Http404: lambda _request, _error: error_answer(404, "There is nothing at this address."),
        HttpError: _http_error,
        Exception: _broken,
    }
    for kind, reply in replies.items():
        api.add_exception_handler(kind, reply)


def _api_error(_request: HttpRequest, error: ApiError) -> HttpResponse:
    told = error.error
    return error_answer(error.status, told.message, told.remedy, told.where, error.current)


def _no_token(_request: HttpRequest, _error: Exception) -> HttpResponse:
    return error_answer(401, "No token came with the request.", "Send it as: Authorization: Bearer <token>.")


def _not_valid(_request: HttpRequest, error: ValidationError) -> HttpResponse:
    first = error.errors[0]
    others = len(error.errors) - 1
    where = ".".join(str(part) for part in first.get("loc", ()) if part not in _WHOLE)
    message = str(first.get("msg", "not valid")).removeprefix("Value error, ")
    more = f" There are {others} more such places." if others else ""
    return error_answer(422, f"{message}.{more}", "Compare with /api/v1/docs.", _without_names_of_parameters(where))


def _without_names_of_parameters(where: str) -> str:
    """Leave out what only the code calls so: the parameter `body` or `asked` before the field."""
    head, _, rest = where.partition(".")
    return rest if rest and head in {"body", "asked"} else where


def _too_many(_request: HttpRequest, error: Throttled) -> HttpResponse:
    seconds = max(1, round(error.wait or 1))
    answer = error_answer(429, "Too many requests.", f"Wait {seconds} s; webhooks tell of changes without asking.")
    answer["Retry-After"] = str(seconds)
    return answer


def _http_error(_request: HttpRequest, error: HttpError) -> HttpResponse:
    if isinstance(error.__cause__, ApiError):  # ninja wraps what reading the body raised
        return _api_error(_request, error.__cause__)
    if error.status_code == 400:
        return error_answer(422, "The body cannot be read as JSON.", "Send JSON, UTF-8, with the declared fields.")
    return error_answer(error.status_code, error.message)


def _broken(request: HttpRequest, error: Exception) -> HttpResponse:
    """Answer for our own fault; Django's signal tells whoever listens (logs, tests)."""
    got_request_exception.send(sender=None, request=request)
    _LOG.error("API request failed: %s", request.path, exc_info=error)
    return error_answer(500, "Something broke in the shop's program. Nothing was saved.", "Try again later.")
