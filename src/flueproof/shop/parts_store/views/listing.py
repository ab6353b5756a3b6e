"""The store at a glance, finding by code, and the list to take away."""

from __future__ import annotations

import csv

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.parts_store.presenters.row import CSV_HEAD, csv_cells, row_of
from flueproof.shop.records.models import Part
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.stock import finding
from flueproof.shop.records.stock.standing import standings

VIEWS = (("", "All"), ("order", "To order"), ("soon", "Expiring soon"), ("barred", "Not usable"))


@requires("see-parts")
@require_safe
def store(request: HttpRequest) -> HttpResponse:
    """Show all parts with their stock, or those to order, expiring soon, or with pieces that may not be used."""
    view = request.GET.get("view", "")
    rows = [
        row_of(one, timezone.localdate()) for one in standings(Part.objects.filter(in_use=True), timezone.localdate())
    ]
    chosen = [row for row in rows if not view or row.is_in(view)]
    counts = [(key, words, sum(row.is_in(key) for row in rows) if key else len(rows)) for key, words in VIEWS]
    context = {
        "rows": chosen,
        "views": counts,
        "view": view,
        "any": bool(rows),
        "left": Part.objects.filter(in_use=False),
    }
    return render(request, "parts_store/list.html", context)


@requires("see-parts")
@require_safe
def find(request: HttpRequest) -> HttpResponse:
    """Open the part or lot whose code was scanned or typed."""
    found = finding.find(request.GET.get("code", ""))
    if found.lot is not None:
        return redirect("parts_store:lot", found.lot.pk)
    if found.part is not None:
        return redirect("parts_store:part", found.part.pk)
    messages.warning(request, found.said)
    return redirect("parts_store:list")


@requires("see-parts")
@require_safe
def as_csv(request: HttpRequest) -> HttpResponse:  # noqa: ARG001 -- Django passes it
    """Return the store as CSV, one line a part."""
    answer = HttpResponse(content_type="text/csv; charset=utf-8")
    day = timezone.localdate()
    answer["Content-Disposition"] = f'attachment; filename="parts-{day.isoformat()}.csv"'
    writer = csv.writer(answer)
    writer.writerow(CSV_HEAD)
    writer.writerows(csv_cells(one) for one in standings(Part.objects.all(), day))
    return answer
