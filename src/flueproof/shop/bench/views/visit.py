"""The bench page of one visit, its changing part, and the look whether somebody else added something."""

from __future__ import annotations

import json
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.bench.presenters.page import bench_page
from flueproof.shop.bench.views.on_bench import rack_in_use, today, visit_of
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.gas.morning import why_closed
from flueproof.shop.records.keeping.numbering import as_numbered
from flueproof.shop.records.models import Job
from flueproof.shop.records.people.rights import requires


@require_safe
@requires("see-jobs")
def visit(request: HttpRequest, number: str) -> HttpResponse:
    """Show the bench page; a job that never came to the bench sends to the bench's first page."""
    try:
        context = _context(request, number)
    except Http404:
        if not Job.objects.filter(number=as_numbered(number)).exists():
            raise
        return redirect(f"{reverse('bench:start')}?{urlencode({'q': number})}")
    return render(request, "bench/visit.html", context)


@require_safe
@requires("see-jobs")
def plan(request: HttpRequest, number: str) -> HttpResponse:
    """Return the changing part of the page: next test, plan, what was found, what happened."""
    return render(request, "bench/plan.html", _context(request, number))


@require_safe
@requires("see-jobs")
def since(request: HttpRequest, number: str) -> HttpResponse:
    """Tell the page to load its changing part anew when the record has grown since `at` (204: nothing to swap)."""
    found = visit_of(number)
    last = found.events.order_by("-position").values_list("position", flat=True).first() or 0
    answer = HttpResponse(status=204)
    seen = request.GET.get("at", "")
    if seen.isdigit() and int(seen) < last:
        answer["HX-Trigger"] = json.dumps({"flueproof:recorded": {"position": last}})
    return answer


def _context(request: HttpRequest, number: str) -> dict[str, object]:
    found = visit_of(number)
    page = bench_page(found, request.user, timezone.now(), rack_in_use())  # type: ignore[arg-type] # signed in
    return {
        "visit": found,
        "job": found.job,
        "page": page,
        "closed": why_closed(today(), the_shop(), found.station),
    }
