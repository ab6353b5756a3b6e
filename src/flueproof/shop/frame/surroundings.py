"""What every template knows."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.http import HttpRequest

from flueproof.shop.frame.presenters.pages import first_page
from flueproof.shop.frame.the_shop import the_shop


def frame(request: HttpRequest) -> dict[str, Any]:
    """Return the shop, whether this is the demo, the page one is on, and light or dark."""
    person = getattr(request, "user", None)
    return {
        "shop": the_shop(),
        "demo": settings.DEMO,
        "here": request.resolver_match,
        "theme": getattr(person, "theme", "auto"),
        "first_page": first_page(person),
    }
