"""Analyzers: list, one, add, change."""

from __future__ import annotations

from typing import Annotated, Any

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from ninja import Query, Router

from flueproof.analyzer.profile_reader import shipped_profile_names
from flueproof.shop.api.answers import ApiError, answers, missing
from flueproof.shop.api.changing import carry_on, change, checked
from flueproof.shop.api.once import once
from flueproof.shop.api.paging import Paging, page_of
from flueproof.shop.api.shapes.analyzer import AnalyzerChange, AnalyzerNew, AnalyzerOut, AnalyzersOut, analyzer_out
from flueproof.shop.api.token_door import BearerToken, person_on
from flueproof.shop.records.filing.selling import pass_on_what_is_due
from flueproof.shop.records.jobs.order_change import carry_plate
from flueproof.shop.records.keeping.plate_key import plate_key
from flueproof.shop.records.models import Analyzer, Owner

router = Router(tags=["analyzers"])


@router.get("", response=answers(AnalyzersOut), auth=BearerToken("see-jobs"))
def list_analyzers(
    request: HttpRequest,  # noqa: ARG001 -- ninja passes it
    paging: Paging,
    owner: Annotated[int | None, Query(ge=1, lt=2**63)] = None,
    serial: Annotated[str | None, Query(max_length=60)] = None,
) -> AnalyzersOut:
    """List analyzers by key; `serial` is compared without spaces, hyphens and case."""
    rows = Analyzer.objects.prefetch_related("cells")
    if owner is not None:
        rows = rows.filter(owner_id=owner)
    if serial is not None:
        rows = rows.filter(serial_key=plate_key(serial))
    page, after = page_of(rows, paging)
    return AnalyzersOut(rows=[analyzer_out(row) for row in page], next=after)


@router.post("", response=answers(AnalyzerOut, 201), auth=BearerToken("change-owners"))
def add_analyzer(request: HttpRequest, body: AnalyzerNew) -> HttpResponse:
    """Add an analyzer; make and serial together are there once."""
    return once(request, 201, lambda: analyzer_out(_add(body)))


@router.get("/{int:analyzer}", response=answers(AnalyzerOut), auth=BearerToken("see-jobs"))
def one_analyzer(request: HttpRequest, analyzer: int) -> AnalyzerOut:  # noqa: ARG001 -- ninja passes it
    """Return one analyzer."""
    return analyzer_out(_analyzer(analyzer))


@router.patch("/{int:analyzer}", response=answers(AnalyzerOut), auth=BearerToken("change-owners"))
def change_analyzer(request: HttpRequest, analyzer: int, body: AnalyzerChange) -> AnalyzerOut:
    """Change an analyzer whose `version` is still the one seen; open bench records follow.

    With a new owner what was due for the old one ends: a due date needs the new owner's word.
    """
    row, person = _analyzer(analyzer), person_on(request)
    wanted = body.model_dump(exclude={"version"}, exclude_none=True)
    if "owner" in wanted:
        wanted["owner"] = _owner_named(wanted["owner"])
    if "profile" in wanted:
        _known_profile(wanted["profile"])
    with transaction.atomic():
        before = Analyzer.objects.select_for_update().get(pk=row.pk).owner_id
        changed = change(row, body.version, wanted, person, _shape)
        carry_on(carry_plate, changed, person)
        if changed.owner_id != before:
            pass_on_what_is_due(changed, "", person, timezone.localdate())
    return analyzer_out(changed)


def _add(body: AnalyzerNew) -> Analyzer:
    _known_profile(body.profile)
    row = Analyzer(owner=_owner_named(body.owner), **body.model_dump(exclude={"owner"}))
    checked(row)
    row.save()
    return row


def _owner_named(key: int) -> Owner:
    row: Owner | None = Owner.objects.filter(pk=key).first() if 0 < key < 2**63 else None
    if row is None:
        raise ApiError(422, f"There is no owner {key}.", "Add the owner first.", "owner")
    return row


def _known_profile(name: str) -> None:
    if name not in shipped_profile_names():
        known = ", ".join(shipped_profile_names())
        raise ApiError(422, f"There is no profile {name}.", f"Use one of: {known}.", "profile")


def _analyzer(key: int) -> Analyzer:
    row: Analyzer | None = Analyzer.objects.filter(pk=key).first() if key < 2**63 else None
    if row is None:
        raise missing("analyzer", key)
    return row


def _shape(row: Any) -> dict[str, Any]:
    return analyzer_out(row).model_dump(mode="json")
