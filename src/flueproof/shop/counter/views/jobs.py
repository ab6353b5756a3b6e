"""The job list."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from flueproof.shop.frame.front_door import front_door
from flueproof.shop.records.models import Job
from flueproof.shop.records.people.rights import requires


@front_door
@requires("see-jobs")
def job_list(request: HttpRequest) -> HttpResponse:
    """Show the open jobs."""
    jobs = Job.objects.filter(state__in=Job.OPEN).select_related("owner", "analyzer").order_by("promised_on", "id")
    return render(request, "counter/jobs.html", {"jobs": jobs})
