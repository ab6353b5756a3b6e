"""The shop's settings, read once every few seconds instead of with each request."""

from __future__ import annotations

from django.core.cache import cache

from flueproof.shop.records.models import Shop

_KEY, _SECONDS = "the-shop", 5


def the_shop() -> Shop:
    """Return the shop's settings; a change shows in every process after five seconds at most, in its own at once."""
    row: Shop | None = cache.get(_KEY)
    if row is None:
        row = Shop.here()
        cache.set(_KEY, row, _SECONDS)
    return row


def forget_the_shop() -> None:
    """Read the settings anew with the next request."""
    cache.delete(_KEY)
