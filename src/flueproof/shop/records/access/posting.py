"""Posting one message over HTTP: ten seconds at most, no redirect followed, a short piece of the answer kept."""

from __future__ import annotations

import urllib.error
import urllib.request
from collections.abc import Mapping
from dataclasses import dataclass
from http.client import HTTPException
from typing import Final
from urllib.parse import urlsplit

TIMEOUT_S: Final = 10.0
_KEPT_BYTES: Final = 200
_SCHEMES: Final = ("http", "https")


@dataclass(frozen=True, slots=True)
class PostAnswer:
    """What came back: the HTTP status, 0 when nothing did; text: the answer's beginning, or why there was none."""

    status: int
    text: str

    @property
    def taken(self) -> bool:
        """Return True when the message was taken: any status from 200 to 299."""
        return 200 <= self.status < 300


class _NoRedirect(urllib.request.HTTPRedirectHandler):
    def redirect_request(self, *_args: object, **_kwargs: object) -> None:
        return None


def post(url: str, body: bytes, headers: Mapping[str, str]) -> PostAnswer:
    """Post a body and return what came back; trouble on the way is an answer with status 0, never an exception."""
    if urlsplit(url).scheme not in _SCHEMES:
        return PostAnswer(0, "the address begins with neither http nor https")
    opener = urllib.request.build_opener(_NoRedirect)
    try:
        request = urllib.request.Request(url, data=body, headers=dict(headers), method="POST")  # noqa: S310 -- checked
        with opener.open(request, timeout=TIMEOUT_S) as answer:
            return PostAnswer(answer.status, _piece(answer.read(_KEPT_BYTES)))
    except urllib.error.HTTPError as error:
        with error:
            return PostAnswer(error.code, _piece(error.read(_KEPT_BYTES)) or str(error.reason))
    except (OSError, HTTPException, ValueError) as error:
        reason = getattr(error, "reason", None) or error
        return PostAnswer(0, f"no answer: {reason}"[:_KEPT_BYTES])


def _piece(content: bytes) -> str:
    text = content.decode("utf-8", "replace")
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())[:_KEPT_BYTES]
