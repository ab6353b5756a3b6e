"""What every template knows."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.http import HttpRequest

from flueproof.shop.frame.the_shop import the_shop


def frame(request: HttpRequest) -> dict[str, Any]:
    """Return the shop and whether this is the demo."""
    return {"shop": the_shop(), "demo": settings.DEMO, "here": request.resolver_match}
