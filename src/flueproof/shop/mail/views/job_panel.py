"""Questions and letters of a job: a part of the job's page, and a page of its own."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from flueproof.shop.mail.presenters.panel import panel as panel_of
from flueproof.shop.records.models import Job
from flueproof.shop.records.people.rights import requires


@requires("see-jobs")
@require_safe
def panel(request: HttpRequest, number: str) -> HttpResponse:
    """Show what was asked and written about a job."""
    part = "mail/panel.html" if getattr(request, "htmx", False) else "mail/panel_page.html"
    return render(request, part, panel_of(job_named(number)))


def job_named(number: str) -> Job:
    """Return a job with owner and analyzer. Raises: Http404."""
    found: Job = get_object_or_404(Job.objects.select_related("owner", "analyzer"), number=number.replace("\0", ""))
    return found


def sent_back(request: HttpRequest, job: Job, forms: dict[str, Any], question: int = 0) -> HttpResponse:
    """Show the panel as a page, with what was typed and what is wrong with it."""
    return render(request, "mail/panel_page.html", panel_of(job, forms, question), status=422)
