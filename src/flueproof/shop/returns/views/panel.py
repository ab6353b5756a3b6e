"""The part of a job's page about quotes and the way back; it stands alone too."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from flueproof.shop.records.people.rights import requires
from flueproof.shop.returns.at_work import job_named
from flueproof.shop.returns.presenters.panel import panel


@requires("see-jobs")
@require_safe
def job_panel(request: HttpRequest, number: str) -> HttpResponse:
    """Show quotes, pack-out, boxes on their way, other shops, loans and what is not simple about a job."""
    whole = not request.headers.get("HX-Request")
    template = "returns/panel_page.html" if whole else "returns/panel.html"
    return render(request, template, panel(job_named(number), request.user))
