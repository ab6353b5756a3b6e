"""A visitor of the demo without a browser: signs in, fetches pages, sends the form of the page last fetched."""

from __future__ import annotations

import http.cookiejar
import urllib.parse
import urllib.request
from html.parser import HTMLParser
from typing import Final

_WAITS_S: Final = 60.0


class _Fields(HTMLParser):
    """The hidden and ticked fields of the last form that posts to the page itself (the head's own form is another)."""

    def __init__(self) -> None:
        super().__init__()
        self.fields: list[tuple[str, str]] = []
        self._inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Take in a form or a field."""
        has = dict(attrs)
        if tag == "form":
            self._inside = has.get("method") == "post" and not has.get("action")
            if self._inside:
                self.fields = []
        elif tag == "input" and self._inside and has.get("name"):
            kind = has.get("type") or "text"
            if kind == "hidden" or (kind in {"checkbox", "radio"} and "checked" in has):
                self.fields.append((str(has["name"]), has.get("value") or ""))

    def handle_endtag(self, tag: str) -> None:
        """Leave a form."""
        if tag == "form":
            self._inside = False


class Visitor:
    """One person's visit to a served demo shop; `page` is the text of the page last fetched."""

    def __init__(self, address: str) -> None:
        """Begin at an address, signed out."""
        from flueproof.shop.demo_shop.password import DEMO_PASSWORD

        self.address, self.page, self.password = address, "", DEMO_PASSWORD
        jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        self._browser = urllib.request.build_opener(jar)

    def sign_in(self, name: str) -> None:
        """Sign in with the demo's password. Raises: OSError."""
        self.fetch("/sign-in")
        self.send("/sign-in", username=name, password=self.password)

    def fetch(self, path: str) -> tuple[int, str]:
        """Fetch a page; return its status and where it was found. Raises: OSError."""
        return self._take(urllib.request.Request(self.address + path))  # noqa: S310 -- our own server

    def send(self, path: str, **typed: str) -> tuple[int, str]:
        """Send the form of the page last fetched with what was typed into it. Raises: OSError."""
        found = _Fields()
        found.feed(self.page)
        sent = [*((name, value) for name, value in found.fields if name not in typed), *typed.items()]
        body = urllib.parse.urlencode(sent).encode()
        return self._take(urllib.request.Request(self.address + path, body, {"Referer": self.address + path}))  # noqa: S310

    def _take(self, request: urllib.request.Request) -> tuple[int, str]:
        with self._browser.open(request, timeout=_WAITS_S) as answer:
            self.page = answer.read().decode()
            return answer.status, answer.url
