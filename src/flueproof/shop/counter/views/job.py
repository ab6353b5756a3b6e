"""The page of one job."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from flueproof.shop.counter.presenters.job_page import Refused, job_page
from flueproof.shop.records.models import Job
from flueproof.shop.records.people.rights import requires


@requires("see-jobs")
@require_safe
def job(request: HttpRequest, number: str) -> HttpResponse:
    """Show one stay: whose, what for, what can be done now, what happened, its papers."""
    return render(request, "counter/job.html", job_page(job_named(number), request.user))


def job_named(number: str) -> Job:
    """Return a job with owner and analyzer. Raises: Http404."""
    found: Job = get_object_or_404(Job.objects.select_related("owner", "analyzer"), number=number.replace("\0", ""))
    return found


def sent_back(request: HttpRequest, number: str, forms: dict[str, Any], refused: Refused | None = None) -> HttpResponse:
    """Show the page again with what was typed and what is wrong with it."""
    context = job_page(job_named(number), request.user, forms, refused)
    return render(request, "counter/job.html", context, status=422)
