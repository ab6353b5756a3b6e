"""The shop's two addresses: hello, and readings; and what an answer means."""

from __future__ import annotations

import http.client
import json
import re
import urllib.parse
from dataclasses import dataclass
from typing import Any, Final

from .errors import SettingError

TIMEOUT_S: Final = 10.0
_LONGEST_ANSWER: Final = 65_536
_TRY_LATER: Final = {408, 425, 429}
_NEAR: Final = {"localhost", "127.0.0.1", "::1"}


@dataclass(frozen=True, slots=True)
class Stored:
    """The shop has the batch: highest number stored, rows new, rows it had already."""

    acknowledged: int
    stored: int
    repeated: int


@dataclass(frozen=True, slots=True)
class Unclear:
    """No answer, or none that says whether the rows are stored: send the same rows again later."""

    why: str


@dataclass(frozen=True, slots=True)
class Refused:
    """The shop understood and says no: sending the same again changes nothing until a person does something."""

    status: int
    message: str
    remedy: str


class Shop:
    """The shop at an address, with a token that is sent and never shown.

    Raises: SettingError for an address or a token that cannot be used.
    """

    def __init__(self, server: str, token: str, *, timeout_s: float = TIMEOUT_S) -> None:
        parts = urllib.parse.urlsplit(server)
        if parts.scheme not in {"http", "https"} or not parts.hostname or parts.query or parts.username:
            raise SettingError(
                f"--server {server}: is no address.", "Write it like https://shop.example or http://192.0.2.5:8000."
            )
        if not re.fullmatch(r"[\x21-\x7e]{8,500}", token):
            raise SettingError(
                "The token is empty or holds signs that no token has.", "Make a new one in the shop and copy it whole."
            )
        self.server = server.rstrip("/")
        self.unprotected = parts.scheme == "http" and parts.hostname not in _NEAR
        self._secure = parts.scheme == "https"
        self._host, self._port, self._path = parts.hostname, parts.port, parts.path.rstrip("/")
        self._headers = {"Authorization": f"Bearer {token}", "Accept": "application/json"}
        self._timeout_s = timeout_s
        self._line: http.client.HTTPConnection | None = None

    def post(self, body: bytes) -> Stored | Unclear | Refused:
        """Post one batch and say what its answer means; never raises for what the network or the shop does."""
        answer = self._ask("POST", "/capture/readings", body)
        if not isinstance(answer, dict):
            return answer
        numbers = [answer.get(name) for name in ("acknowledged", "stored", "repeated")]
        if any(isinstance(one, bool) or not isinstance(one, int) or one < 0 for one in numbers):
            return Unclear(f"{self.server} answers, but not as a shop does")
        return Stored(*numbers)  # type: ignore[arg-type]  # all three are int, see above

    def hello(self) -> dict[str, Any] | Unclear | Refused:
        """Ask who is there: `station` and `shop`."""
        return self._ask("GET", "/capture/hello", None)

    def close(self) -> None:
        """Close the connection; the next post opens a new one."""
        if self._line is not None:
            self._line.close()
            self._line = None

    def _ask(self, method: str, path: str, body: bytes | None) -> dict[str, Any] | Unclear | Refused:
        used_before = self._line is not None
        try:
            return self._answer(method, path, body)
        except (OSError, http.client.HTTPException, ValueError) as error:
            self.close()
            if not used_before:
                return Unclear(f"{self.server}: {_said(error)}")
        try:  # a connection that was kept open may have been closed by the other side in the meantime
            return self._answer(method, path, body)
        except (OSError, http.client.HTTPException, ValueError) as error:
            self.close()
            return Unclear(f"{self.server}: {_said(error)}")

    def _answer(self, method: str, path: str, body: bytes | None) -> dict[str, Any] | Unclear | Refused:
        if self._line is None:
            kind = http.client.HTTPSConnection if self._secure else http.client.HTTPConnection
            self._line = kind(self._host, self._port, timeout=self._timeout_s)
        headers = self._headers if body is None else {**self._headers, "Content-Type": "application/json"}
        self._line.request(method, self._path + path, body, headers)
        response = self._line.getresponse()
        text = response.read(_LONGEST_ANSWER + 1)
        if response.will_close or len(text) > _LONGEST_ANSWER:
            self.close()
        return _meaning(self.server, response.status, text, response.getheader("Location"))


def _meaning(server: str, status: int, text: bytes, location: str | None) -> dict[str, Any] | Unclear | Refused:
    try:
        told = json.loads(text)
    except (ValueError, RecursionError):
        told = None
    if status == http.client.OK:
        return told if isinstance(told, dict) else Unclear(f"{server} answers, but not as a shop does")
    if status >= 500 or status in _TRY_LATER:
        return Unclear(f"{server}: answers {status}")
    error = told.get("error") if isinstance(told, dict) else None
    message, remedy = (error.get("message"), error.get("remedy")) if isinstance(error, dict) else (None, None)
    if 300 <= status < 400:
        message, remedy = f"The shop has moved to {location}.", "Give the new address with --server."
    return Refused(
        status,
        message if isinstance(message, str) else f"{server}: answers {status} without a reason.",
        remedy
        if isinstance(remedy, str)
        else "Look whether --server is the shop's address and the token is a valid one.",
    )


def _said(error: Exception) -> str:
    return getattr(error, "strerror", None) or str(error) or type(error).__name__
