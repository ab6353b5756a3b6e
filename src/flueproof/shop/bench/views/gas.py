"""A gas of the person's own choice: the form that begins it, for any point of the plan."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.bench.presenters.next_test import GAS_CAUTIONS
from flueproof.shop.bench.presenters.page import bench_page
from flueproof.shop.bench.views.on_bench import rack_in_use, today, visit_of
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.gas.morning import why_closed
from flueproof.shop.records.people.rights import requires


@require_safe
@requires("work-bench")
def gas(request: HttpRequest, number: str) -> HttpResponse:
    """Show the form that puts a bottle on for a point of the plan, or for none."""
    visit = visit_of(number)
    page = bench_page(visit, request.user, timezone.now(), rack_in_use())  # type: ignore[arg-type] # signed in
    wanted = request.GET.get("point", "")
    point = next((one for one in page.found.profile.points if one.id == wanted), None)
    if wanted and point is None:
        raise Http404(f"the procedure has no point {wanted}")
    start = {
        "kind": "test-gas",
        "point": wanted,
        "feed": (point.feed if point is not None else "") or "tip",
        "hold_s": f"{page.found.profile.hold_s:.0f}",
    }
    context = {
        "visit": visit,
        "job": visit.job,
        "page": page,
        "start": start,
        "title": point.title if point is not None else "",
        "cautions": GAS_CAUTIONS,
        "closed": why_closed(today(), the_shop(), visit.station),
    }
    template = "bench/gas.html" if request.htmx else "bench/gas_page.html"  # type: ignore[attr-defined] # by its middleware
    return render(request, template, context)
