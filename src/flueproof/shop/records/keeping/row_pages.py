"""Long lists of owners and analyzers, page by page along an index: all pages cost the same."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.db.models import Q, QuerySet


class RowKeyError(ValueError):
    """A page key that no page gave out."""


@dataclass(frozen=True, slots=True)
class RowPage:
    """One page of rows, and the key of the next one (empty on the last)."""

    rows: list[Any]
    next_key: str


def row_page(rows: QuerySet[Any], key: str, begins: str = "", after: str = "", size: int = 40) -> RowPage:
    """Return the page after a key, in the order of a key column.

    rows: all that may be shown; key: name of an indexed key column (name_key, serial_key); begins: only keys that begin
    so, already written as a key; after: `next_key` of the page before.
    Raises: RowKeyError.
    """
    if begins:
        rows = rows.filter(**{f"{key}__startswith": begins})
    if after:
        number, _, text = after.partition(".")
        if not number.isdecimal():
            raise RowKeyError(f"{after!r} is no place in this list; begin at its first page")
        beyond = Q(**{f"{key}__gt": text}) | Q(pk__gt=int(number))
        rows = rows.filter(beyond, **{f"{key}__gte": text})
    found: list[Any] = list(rows.order_by(key, "pk")[: size + 1])
    page = found[:size]
    return RowPage(page, f"{page[-1].pk}.{getattr(page[-1], key)}" if len(found) > size else "")
