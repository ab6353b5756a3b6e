"""Parts of other pages: the panel on a job's page, and the line above the list of jobs."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.duties.presenters.duty_list import line_of, panel_duties, today
from flueproof.shop.records.models import Job
from flueproof.shop.records.people.rights import requires


@requires("see-duties")
@require_safe
def job_panel(request: HttpRequest, number: str) -> HttpResponse:
    """Show the duties of a job; nothing where there is none, so that the page stays short."""
    job = get_object_or_404(Job.objects.select_related("owner", "analyzer"), number=number.replace("\0", ""))
    now = timezone.now()
    context = {"job": job, "lines": [line_of(row, now) for row in panel_duties(job)]}
    part = "duties/panel.html" if request.headers.get("HX-Request") else "duties/panel_page.html"
    return render(request, part, context)


@requires("see-duties")
@require_safe
def today_line(request: HttpRequest) -> HttpResponse:
    """Say how many owners must be called today, and how many others wait; an empty answer where none."""
    part = "duties/today.html" if request.headers.get("HX-Request") else "duties/today_page.html"
    return render(request, part, today(timezone.now()))
