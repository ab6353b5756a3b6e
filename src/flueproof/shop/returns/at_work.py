"""Who asks, about which job: as the services take them."""

from __future__ import annotations

from typing import cast

from django.http import HttpRequest
from django.shortcuts import get_object_or_404

from flueproof.shop.records.models import Job, Person


def person_of(request: HttpRequest) -> Person:
    """Return the person; `requires` has let in nobody else."""
    return cast("Person", request.user)


def job_named(number: str) -> Job:
    """Return a job with owner and analyzer. Raises: Http404."""
    found: Job = get_object_or_404(
        Job.objects.select_related("owner", "analyzer", "first_job"), number=number.replace("\0", "")
    )
    return found
