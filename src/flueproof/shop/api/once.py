"""Requests that are sent twice and done once: what an `Idempotency-Key` was answered is kept for a week."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from datetime import timedelta
from typing import Final

from django.db import IntegrityError, transaction
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from ninja import Schema
from ninja.responses import NinjaJSONEncoder

from flueproof.shop.api.answers import ApiError
from flueproof.shop.api.token_door import token_on
from flueproof.shop.records.models import ApiAnswer

HEADER: Final = "Idempotency-Key"
REPLAYED: Final = "Idempotency-Replayed"
KEPT: Final = timedelta(days=7)
_LONGEST: Final = 80


def once(request: HttpRequest, status: int, act: Callable[[], Schema]) -> HttpResponse:
    """Do a POST once for each key and return its answer; without a key it is simply done.

    Change and kept answer are one transaction, so a request whose answer got lost on the way can be sent again.
    Raises: ApiError (422: the key was used for another request, or is too long), and what `act` raises.
    """
    key = request.headers.get(HEADER, "")
    if not key:
        return _json(_text(act()), status)
    if len(key) > _LONGEST:
        raise ApiError(422, "This Idempotency-Key is too long.", f"Use at most {_LONGEST} characters.", HEADER)
    with transaction.atomic():
        kept = _reserve(request, key)
        if kept.status:
            answer = _json(kept.body, kept.status)
            answer[REPLAYED] = "true"
            return answer
        body = _text(act())
        kept.status, kept.body = status, body
        kept.save(update_fields=["status", "body"])
        return _json(body, status)


def _reserve(request: HttpRequest, key: str) -> ApiAnswer:
    """Return the kept row of a key, made with status 0 when there is none; the database lets only one make it."""
    token, now, digest = token_on(request), timezone.now(), _digest(request)
    ApiAnswer.objects.filter(at__lt=now - KEPT).delete()
    try:
        with transaction.atomic():
            return ApiAnswer.objects.create(token=token, key=key, request_sha256=digest, status=0, body="", at=now)
    except IntegrityError:
        kept = ApiAnswer.objects.get(token=token, key=key)
    if kept.request_sha256 != digest:
        raise ApiError(
            422, "This Idempotency-Key was used for another request.", "Use a new key for each new request.", HEADER
        )
    return kept


def _digest(request: HttpRequest) -> str:
    asked = f"{request.method} {request.get_full_path()}\n".encode() + request.body
    return hashlib.sha256(asked).hexdigest()


def _text(shape: Schema) -> str:
    """Return a shape as JSON, with times written as in all other answers."""
    return json.dumps(shape.model_dump(), cls=NinjaJSONEncoder)


def _json(body: str, status: int) -> HttpResponse:
    return HttpResponse(body, content_type="application/json", status=status)
