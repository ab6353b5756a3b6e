"""References: list, and one with what is left in it."""

from __future__ import annotations

from typing import Annotated, Literal

from django.http import HttpRequest
from django.utils import timezone
from ninja import Query, Router

from flueproof.shop.api.answers import answers, missing
from flueproof.shop.api.paging import Paging, page_of
from flueproof.shop.api.shapes.reference import (
    ReferencesOut,
    ReferenceWithLeft,
    reference_out,
    reference_with_left,
)
from flueproof.shop.api.token_door import BearerToken
from flueproof.shop.records.gas.litres import left
from flueproof.shop.records.models import Reference

router = Router(tags=["references"])
_TEST_GAS = "test-gas"


@router.get("", response=answers(ReferencesOut), auth=BearerToken("see-jobs"))
def list_references(
    request: HttpRequest,  # noqa: ARG001 -- ninja passes it
    paging: Paging,
    state: Annotated[Literal["new", "in-use", "empty", "withdrawn"] | None, Query()] = None,
    kind: Annotated[str | None, Query(max_length=20)] = None,
) -> ReferencesOut:
    """List cylinders and other references by key."""
    filters = {"state": state, "kind": kind}
    rows = Reference.objects.filter(**{name: value for name, value in filters.items() if value is not None})
    page, after = page_of(rows, paging)
    return ReferencesOut(rows=[reference_out(row) for row in page], next=after)


@router.get("/{path:code}", response=answers(ReferenceWithLeft), auth=BearerToken("see-jobs"))
def one_reference(request: HttpRequest, code: str) -> ReferenceWithLeft:  # noqa: ARG001 -- ninja passes it
    """Return one reference by its scan code, a cylinder with its litres and tests left."""
    row: Reference | None = Reference.objects.filter(code=code.replace("\0", "")).first()
    if row is None:
        raise missing("reference", code)
    return reference_with_left(row, left(row, timezone.now()) if row.kind == _TEST_GAS else None)
