"""The record as rows of the database, whether its chain holds, and the record as a file."""

from __future__ import annotations

import json

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from flueproof.shop.bench.presenters.displayed import displayed_views
from flueproof.shop.bench.presenters.rows import event_rows
from flueproof.shop.bench.presenters.units import paper_units
from flueproof.shop.bench.views.on_bench import today, visit_of
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.visits.chain import broken_links
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.projection import record_tree


@require_safe
@requires("see-jobs")
def record(request: HttpRequest, number: str) -> HttpResponse:
    """Show the event rows with their hashes."""
    visit = visit_of(number)
    displayed = displayed_views(judged(visit, today()).judgement, paper_units(request.user))  # type: ignore[arg-type] # signed in
    context = {"visit": visit, "job": visit.job, "rows": event_rows(visit), "broken": broken_links(visit)}
    context["displayed"] = displayed
    return render(request, "bench/record.html", context)


@require_safe
@requires("see-jobs")
def record_json(request: HttpRequest, number: str) -> HttpResponse:  # noqa: ARG001 -- Django passes the request
    """Give the bench record, format 1, as a file."""
    visit = visit_of(number)
    body = json.dumps(record_tree(visit), indent=1, ensure_ascii=False)
    name = f"{visit.job.number}.json"
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(body, content_type="application/json", headers=headers)
