"""Walking the shop as a browser would, by what a page links to or loads, with what each page holds."""

from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import urljoin, urlsplit

from django.urls import Resolver404, resolve

# Attributes that make a browser ask for an address, or send something there.
ADDRESSES = {
    "href",
    "src",
    "action",
    "formaction",
    "poster",
    "srcset",
    "data",
    "background",
    "cite",
    "ping",
    "manifest",
}
FETCHED = {"hx-get", "hx-post", "hx-put", "hx-patch", "hx-delete", "sse-connect", "xlink:href"}
MOST_OF_A_VIEW = 2  # pages that one view shows look alike


@dataclass
class Page(HTMLParser):
    """What a page holds: (element, attribute, address) that it reaches out to, and what no page may hold."""

    address: str
    reaches: list = field(default_factory=list)
    leads_to: list = field(default_factory=list)
    forbidden: list = field(default_factory=list)
    inside: str = ""

    def __post_init__(self):
        super().__init__()

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        self.inside = tag if tag == "script" and given.get("type") != "application/json" else ""
        for name, value in attrs:
            if name in ADDRESSES | FETCHED or (name.startswith("data-") and (value or "").startswith(("http", "//"))):
                self.reaches.append((tag, name, (value or "").strip()))
            if name == "style" or (name.startswith("on") and name != "one") or name.startswith("hx-on"):
                self.forbidden.append(f"<{tag} {name}={value!r}>")
            if (value or "").lower().lstrip().startswith("javascript:") or (value or "").startswith("js:"):
                self.forbidden.append(f"<{tag} {name}={value!r}>")
        if tag in {"style", "base", "object", "embed"} or (tag == "meta" and "refresh" in given.get("http-equiv", "")):
            self.forbidden.append(f"<{tag}>")
        self._follow(tag, given)

    def handle_data(self, data):
        if self.inside == "script" and data.strip():
            self.forbidden.append(f"inline script: {data.strip()[:60]}")

    def _follow(self, tag, given):
        asked = [given.get("hx-get")]
        if tag == "a" and "download" not in given:
            asked.append(given.get("href"))
        if tag == "form" and given.get("method", "get").lower() == "get":
            asked.append(given.get("action"))
        if tag in {"iframe", "img"}:
            asked.append(given.get("src"))
        self.leads_to += [urljoin(self.address, one) for one in asked if one]


def leaves_the_shop(address):
    """Return True for an address that is not one of the shop's own, nor one that asks nobody."""
    parts = urlsplit(address)
    if parts.scheme in {"data", "blob", "tel", "mailto"}:
        return False
    return bool(parts.scheme or parts.netloc)


def view_of(address):
    """Return the name of the view behind an address, "" when there is none."""
    try:
        return resolve(urlsplit(address).path).view_name
    except Resolver404:
        return ""


def walk(client, starts):
    """Yield (view, page) of every HTML answer that can be reached from some addresses, a few of each view."""
    waiting, seen, of_view = list(starts), set(starts), {}
    while waiting:
        address = waiting.pop(0)
        view = view_of(address)
        if not view or of_view.get(view, 0) >= MOST_OF_A_VIEW or view in {"frame:logout", "live:events"}:
            continue
        of_view[view] = of_view.get(view, 0) + 1
        answer = client.get(address, headers={"hx-request": "true"} if view == "live:panel" else {})
        if answer.status_code in {301, 302}:
            found = [urljoin(address, answer["Location"])]
        elif answer.status_code == 200 and answer["Content-Type"].startswith("text/html"):
            page = Page(address)
            page.feed(answer.content.decode())
            yield view, page
            found = page.leads_to
        else:
            continue
        for one in found:
            if one not in seen and not leaves_the_shop(one):
                seen.add(one)
                waiting.append(one)
