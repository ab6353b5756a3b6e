"""Bodies and queries as text that both databases can keep."""

from __future__ import annotations

import json
from typing import Any

from django.http import HttpRequest
from django.http.request import QueryDict
from ninja.parser import Parser
from ninja.types import DictStrAny

from flueproof.shop.api.answers import ApiError


class TextParser(Parser):
    """JSON as it is declared; text that no database keeps is refused before anything is done."""

    def parse_body(self, request: HttpRequest) -> DictStrAny:
        """Return the body.

        Raises: ApiError (422) for a NUL sign or half a surrogate pair, ValueError where it is no JSON.
        """
        try:
            read: Any = json.loads(request.body)
        except RecursionError as error:
            raise ApiError(422, "The body is nested too deeply.", "Send JSON with the declared fields.") from error
        _refuse_unkeepable(read, "")
        body: DictStrAny = read
        return body

    def parse_querydict(self, data: Any, list_fields: list[str], request: HttpRequest) -> DictStrAny:
        """Return a query. Raises: ApiError (422) for a NUL sign."""
        if isinstance(data, QueryDict):
            for name, values in data.lists():
                _refuse_unkeepable(values, name)
        return super().parse_querydict(data, list_fields, request)


def _refuse_unkeepable(part: Any, where: str) -> None:
    if isinstance(part, dict):
        for name, value in part.items():
            _refuse_unkeepable(name, where)
            _refuse_unkeepable(value, f"{where}.{name}".lstrip("."))
    elif isinstance(part, list):
        for place, value in enumerate(part):
            _refuse_unkeepable(value, f"{where}.{place}".lstrip("."))
    elif isinstance(part, str) and ("\0" in part or any("\ud800" <= sign <= "\udfff" for sign in part)):
        raise ApiError(
            422, "The text holds a sign that cannot be kept.", "Send text without NUL, in UTF-8.", _told(where)
        )


def _told(where: str) -> str:
    """Return the place in the request, without signs that the answer could not hold either."""
    return where.encode("utf-8", "replace").decode().replace("\0", "")[:200]
