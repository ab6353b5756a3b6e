"""A letter in a frame of its own: nothing runs in it, nothing is loaded, only its one style sheet is let in."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse

from flueproof.shop.records.mailing.html_letter import style_hash


def framed(html: str, status: int = 200) -> HttpResponse:
    """Return an HTML letter for a frame of our own pages, locked in by its own content security policy."""
    page = HttpResponse(html, status=status)
    answer: Any = page
    answer._csp_config = {  # noqa: SLF001 -- what the decorators of django-csp set, whose value would be fixed
        "default-src": ["'none'"],
        "style-src": [style_hash(html)],
        "frame-ancestors": ["'self'"],
        "base-uri": ["'none'"],
        "form-action": ["'none'"],
        "sandbox": ["allow-popups"],
    }
    answer.xframe_options_exempt = True  # frame-ancestors says it, for the whole house
    page["Cache-Control"] = "no-store"
    return page
