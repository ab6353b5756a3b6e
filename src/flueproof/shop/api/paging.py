"""Lists page by page: each page begins after a key, so that the last page costs what the first one does."""

from __future__ import annotations

from typing import Annotated, Any

from django.db.models import QuerySet
from ninja import Query, Schema
from pydantic import Field

from flueproof.shop.api.answers import ApiError


class PageQuery(Schema):
    """Which page: `after` is the `next` of the page before."""

    after: str = Field("", max_length=40, description="The `next` of the page before; empty for the first page.")
    limit: int = Field(50, ge=1, le=200, description="Rows a page.")


Paging = Annotated[PageQuery, Query()]


def page_of(rows: QuerySet[Any], asked: PageQuery, *, newest_first: bool = False) -> tuple[list[Any], str]:
    """Return a page of rows by their key and the `next` of it, "" on the last page.

    Raises: ApiError (422) for an `after` that no page gave out.
    """
    if asked.after:
        if not asked.after.isascii() or not asked.after.isdecimal() or len(asked.after) > 18:
            raise ApiError(422, f"{asked.after!r} is no place in this list.", "Begin at its first page.", "after")
        key = int(asked.after)
        rows = rows.filter(pk__lt=key) if newest_first else rows.filter(pk__gt=key)
    found = list(rows.order_by("-pk" if newest_first else "pk")[: asked.limit + 1])
    page = found[: asked.limit]
    return page, str(page[-1].pk) if len(found) > asked.limit else ""
