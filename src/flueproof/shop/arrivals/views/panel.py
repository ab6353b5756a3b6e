"""The box of a job, as a part of the job's own page: what came, photos, paperwork, what was asked."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from flueproof.shop.arrivals.presenters.in_the_box import panel_of
from flueproof.shop.arrivals.views.condition import say_asked
from flueproof.shop.arrivals.views.found import job_numbered
from flueproof.shop.records.people.rights import requires


@requires("see-jobs")
@require_safe
def job_panel(request: HttpRequest, number: str) -> HttpResponse:
    """Show the panel; asked for by itself, as a page of its own."""
    job = job_numbered(number)
    template = "arrivals/panel.html" if request.htmx else "arrivals/panel_page.html"  # type: ignore[attr-defined] # middleware
    return render(request, template, {"job": job, **panel_of(job)})


@requires("receive-boxes")
@require_POST
def ask(request: HttpRequest, number: str) -> HttpResponse:
    """Ask the owner for what is missing, from the job's page."""
    job = job_numbered(number)
    say_asked(request, job, request.POST.getlist("part"))
    return redirect("counter:job", number=number)
