"""Our own small drawings as inline SVG; each lies in templates/frame/drawings/ on a field of 48 by 48."""

from __future__ import annotations

import re
from functools import cache
from typing import Final

from django.template.loader import render_to_string
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

_NAME: Final = re.compile(r"[a-z]+(-[a-z]+)*")


def drawing(name: str, label: str = "", size: str = "") -> SafeString:
    """Return a drawing as inline SVG; with a label it speaks to readers, without one it is silent.

    Raises: ValueError for a name that is no name; TemplateDoesNotExist when nobody drew it.
    """
    classes = f"drawing {size}".strip()
    if label:
        head = format_html('<svg class="{}" viewBox="0 0 48 48" role="img" aria-label="{}">', classes, label)
    else:
        head = format_html('<svg class="{}" viewBox="0 0 48 48" aria-hidden="true" focusable="false">', classes)
    return head + _shapes(name) + mark_safe("</svg>")


@cache
def _shapes(name: str) -> SafeString:
    if not _NAME.fullmatch(name):
        raise ValueError(f"{name!r} is no drawing's name; use small letters and single dashes")
    return mark_safe(render_to_string(f"frame/drawings/{name}.svg").strip())  # noqa: S308 -- our own file, no input in it
