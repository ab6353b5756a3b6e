"""What a form begins with, as the query of its address."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import urlencode


def query_of(start: Mapping[str, str]) -> str:
    """Return "?channel=co&value=502", nothing where a form begins empty."""
    return f"?{urlencode(start)}" if start else ""
