"""All addresses of the shop, walked from its url conf: what is asked, by which right, with arguments that fit."""

from dataclasses import dataclass

from django.urls import URLPattern, get_resolver, reverse
from django.urls.converters import IntConverter

PLAIN = "1"


@dataclass(frozen=True)
class Door:
    """One address: its name with the app's, an address that fits, the view's right ("" when it has none)."""

    name: str
    address: str
    right: str


def doors(below="", resolver=None):
    """Yield every named address of the shop but the operations of the API, which have a walk of their own."""
    for pattern in (resolver or get_resolver()).url_patterns:
        if not isinstance(pattern, URLPattern):
            yield from doors(f"{below}{pattern.namespace}:" if pattern.namespace else below, pattern)
        elif pattern.name and (getattr(pattern.callback, "right", "") or not below.startswith("api-v1:")):
            yield Door(below + pattern.name, _address(below, pattern), getattr(pattern.callback, "right", ""))


def nameless():
    """Return the patterns that have no name, so that none escapes the walk."""

    def walk(resolver):
        for pattern in resolver.url_patterns:
            if not isinstance(pattern, URLPattern):
                yield from walk(pattern)
            elif not pattern.name:
                yield pattern

    return list(walk(get_resolver()))


def _address(below, pattern):
    given = {
        name: 999_999 if isinstance(converter, IntConverter) else PLAIN
        for name, converter in pattern.pattern.converters.items()
    }
    return reverse(below + pattern.name, kwargs=given)
