"""All owners, all analyzers: lists to leaf through, narrowed by their beginning."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from django.db.models import Exists, F, Func, OuterRef, QuerySet, Subquery
from django.db.models.functions import Coalesce
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from flueproof.shop.records.keeping.plate_key import name_key, plate_key
from flueproof.shop.records.keeping.row_pages import RowKeyError, RowPage, row_page
from flueproof.shop.records.models import Analyzer, Job, Owner, OwnerAddress, OwnerContact
from flueproof.shop.records.people.rights import requires

_LONGEST = 80


@requires("see-jobs")
@require_safe
def owners(request: HttpRequest) -> HttpResponse:
    """List owners by name, with whom to ring, their town, how many analyzers and open jobs."""
    begins = request.GET.get("begins", "")[:_LONGEST]
    contact = OwnerContact.objects.filter(owner=OuterRef("pk")).order_by("name", "id")
    address = OwnerAddress.objects.filter(owner=OuterRef("pk")).order_by("id")
    rows = Owner.objects.filter(merged_into=None).annotate(
        person=Subquery(contact.values("name")[:1]),
        phone=Subquery(contact.values("phone")[:1]),
        town=Subquery(address.values("town")[:1]),
        units=_how_many(Analyzer.objects.filter(owner=OuterRef("pk"))),
        jobs_open=_how_many(Job.objects.filter(owner=OuterRef("pk"), state__in=Job.OPEN)),
    )
    return _list(request, "counter/owners.html", rows, "name_key", begins, name_key(begins))


@requires("see-jobs")
@require_safe
def analyzers(request: HttpRequest) -> HttpResponse:
    """List analyzers by serial, with their owner and whether they are here."""
    begins = request.GET.get("begins", "")[:_LONGEST]
    standing = Job.objects.filter(analyzer=OuterRef("pk"), state__in=Job.OPEN).order_by("id")
    rows = Analyzer.objects.select_related("owner").annotate(
        open_job=Subquery(standing.values("number")[:1]), is_open=Exists(standing)
    )
    return _list(request, "counter/analyzers.html", rows, "serial_key", begins, plate_key(begins))


def _how_many(rows: QuerySet[Any]) -> Any:
    """Return the number of rows as a subquery, so that two counts do not multiply each other."""
    counted = rows.order_by().annotate(found=Func(F("pk"), function="COUNT")).values("found")
    return Coalesce(Subquery(counted), 0)


def _list(
    request: HttpRequest, template: str, rows: QuerySet[Any], key: str, begins: str, begins_key: str
) -> HttpResponse:
    after, wrong = request.GET.get("after", "")[: _LONGEST * 3], ""
    try:
        page = row_page(rows, key, begins_key, after)
    except RowKeyError as error:
        page, wrong = RowPage([], ""), f"{error}."
    asked = {"begins": begins} if begins else {}
    context = {
        "rows": page.rows,
        "begins": begins,
        "first": not after,
        "wrong": wrong,
        "further": urlencode({**asked, "after": page.next_key}) if page.next_key else "",
    }
    return render(request, template, context, status=400 if wrong else 200)
