"""Choosing one row of a few by what the page sent."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any


def chosen(rows: Sequence[Any], key: str) -> Any | None:
    """Return the row whose key was sent, else the first one, None when there are none."""
    return next((row for row in rows if str(row.pk) == key), rows[0] if rows else None)
